using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>A short form of the command <c>modes</c> of the benchmarks, on seeds of its own.</summary>
public sealed class ModeTruthTests
{
    private const int Each = 8;
    private const int FirstSeed = 7000;

    [Theory]
    [InlineData("circuit")]
    [InlineData("stepped")]
    [InlineData("drawn")]
    [InlineData("handled")]
    [InlineData("catalogue")]
    public void Charges_and_borders_are_found_in_logs_whose_modes_are_known(string family)
    {
        var borders = new List<double>();
        var energies = new List<double>();
        int right = 0;
        for (int i = 0; i < Each; i++)
        {
            var log = family switch
            {
                "circuit" => FirstShapes.Make(FirstSeed + i),
                "stepped" => SecondShapes.Make(FirstSeed + i),
                "drawn" => ThirdShapes.Make(FirstSeed + i),
                "handled" => FourthShapes.Make(FirstSeed + i),
                _ => FifthShapes.Make(FirstSeed + i),
            };
            var envelope = log.Envelope();
            var score = TruthScore.Of(log, envelope, ModeFinder.Find(envelope, ModeOptions.Default));
            right += score.ChargesRight ? 1 : 0;
            borders.AddRange(score.BorderErrors);
            energies.AddRange(log.IntervalS <= 1 ? score.ChargeEnergyErrors.Select(Math.Abs) : []);
        }

        // In 99 % of the long run all charges are right: two wrong ones in eight logs would come three times in a thousand such tests.
        Assert.True(right >= Each - 1, $"{right} of {Each} logs have all charges right");
        borders.Sort();
        energies.Sort();
        Assert.True(borders[borders.Count / 2] <= 2, $"median border error {borders[borders.Count / 2]} samples");
        Assert.True(energies[energies.Count / 2] <= 0.002, $"median error of a charge's energy {energies[energies.Count / 2]}");
    }
}

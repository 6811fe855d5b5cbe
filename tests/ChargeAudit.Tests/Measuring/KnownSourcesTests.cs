using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Sources that say the same are held once, and no source is taken for another.</summary>
public sealed class KnownSourcesTests
{
    private static readonly InfluenceSource Gain = InfluenceSource.OfMeter("bench", SourceKind.MeterGain, "gain");

    public static TheoryData<InfluenceSource> Others() =>
    [
        Gain with { Part = "offset" }, Gain with { OwnerName = "other" }, Gain with { Owner = SourceOwner.Log }, Gain with { Design = "b" },
        Gain with { DegreesOfFreedom = 5 }, Gain with { Shared = false }, Gain with { Shape = ErrorShape.Rectangular },
        Gain with { Kind = SourceKind.Noise }, Gain with { ObservedTogether = "x" }, Gain with { Middle = 0.5 },
        Gain with { Observations = 3 }, Gain with { InBlocks = true },
    ];

    [Fact]
    public void What_says_the_same_is_held_once_with_its_own_uncertainty()
    {
        var known = new KnownSources();
        UncertaintyComponent[] first = [.. known.Of([new(Gain, 1)])];
        UncertaintyComponent[] second = [.. known.Of([new(Gain with { }, 2)])];
        Assert.Same(first[0].Source, second[0].Source);
        Assert.Equal((1, 2), (first[0].SignedStandardUncertainty, second[0].SignedStandardUncertainty));
    }

    [Theory]
    [MemberData(nameof(Others))]
    public void What_differs_in_anything_stays_itself(InfluenceSource other)
    {
        var known = new KnownSources();
        UncertaintyComponent[] both = [.. known.Of([new(Gain, 1), new(other, 1)])];
        Assert.Same(other, both[1].Source);
    }

    // Whoever adds to what a source says has to compare it here.
    [Fact]
    public void All_that_a_source_says_is_tried() =>
        Assert.Equal(Others().Count, typeof(InfluenceSource).GetProperties().Count(p => p.CanWrite));
}

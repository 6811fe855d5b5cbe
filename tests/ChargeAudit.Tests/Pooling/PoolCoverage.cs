using ChargeAudit.Metrology;
using ChargeAudit.Pooling;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Simulation.Randomness;

namespace ChargeAudit.Tests.Pooling;

/// <summary>Pools whose truth is known.</summary>
/// <param name="Devices">How many devices. [1]</param>
/// <param name="Spread">Standard deviation of the true energies, and of the true overheads, between devices, as a share. [1]</param>
/// <param name="OneMeter">Whether all audits share one instrument; else each has its own.</param>
/// <param name="ScatterOfARun">Scatter of a single run, as a share; that of a device lies between half and twice it. [1]</param>
internal sealed record PoolTruth(int Devices, double Spread, bool OneMeter, double ScatterOfARun = 0.01);

/// <summary>How often intervals held, and how wide they were by those of somebody who knows spread and scatter. [1]</summary>
internal sealed record PoolShares(double Mean, double Device, double Measurement, double Spread, double MeanWidth, double DeviceWidth);

/// <summary>
/// How often the intervals of a pool hold: run energies are drawn with known truth, three runs of each method, and go through the same
/// function as those of a study. The figure is the energy per charge, in which the meter's gain does not cancel, or the overhead.
/// </summary>
internal static class PoolCoverage
{
    private const double Gain = 0.005;
    private const int Runs = 3;

    public static PoolShares Simulate(PoolTruth truth, PoolFigure figure, int pools, ulong seed)
    {
        var random = new RandomSource(seed).Named(InvariantText.Of($"{truth.Devices}-{truth.Spread}-{truth.OneMeter}-{figure}"));
        int mean = 0, device = 0, measurement = 0, spread = 0;
        double meanWidth = 0, deviceWidth = 0;
        for (int i = 0; i < pools; i++)
        {
            double oneGain = random.NextWithin(Gain * Math.Sqrt(3));
            double[] scatters = [.. Enumerable.Range(0, truth.Devices)
                .Select(_ => truth.ScatterOfARun * Math.Pow(2, random.NextWithin(1)))];
            var audits = scatters.Select((s, d) => Draw(truth, figure, d, s, oneGain, random).Audit).ToList();
            var answer = Pooler.Run(audits, []).Figures.First(f => f.Figure == figure).Answer!;
            var next = Draw(truth, figure, truth.Devices, truth.ScatterOfARun * Math.Pow(2, random.NextWithin(1)), oneGain, random);
            mean += Holds(answer.Mean, 0, figure) ? 1 : 0;
            device += Holds(answer.AnotherDevice, next.True, figure) ? 1 : 0;
            measurement += Holds(answer.NextMeasurement, next.Found, figure) ? 1 : 0;
            spread += truth.Spread >= answer.Spread.Low - 1e-12 && truth.Spread <= answer.Spread.High ? 1 : 0;
            var (idealMean, idealDevice) = Ideal(truth, figure, scatters);
            meanWidth += Width(answer.Mean) / idealMean / pools;
            deviceWidth += Width(answer.AnotherDevice) / idealDevice / pools;
        }

        double n = pools;
        return new PoolShares(mean / n, device / n, measurement / n, spread / n, meanWidth, deviceWidth);
    }

    private static (PooledAudit Audit, double True, double Found) Draw(PoolTruth truth, PoolFigure figure, int number, double scatter,
        double oneGain, RandomSource random)
    {
        double gain = truth.OneMeter ? oneGain : random.NextWithin(Gain * Math.Sqrt(3)), effect = truth.Spread * random.NextNormal();
        double[] Energies(double logarithm) =>
            [.. Enumerable.Range(0, Runs).Select(_ => Math.Exp(logarithm) * (1 + gain) * (1 + (scatter * random.NextNormal())))];
        double[] cable = Energies(Math.Log(10)), pad = Energies(Base + effect);
        double found = Math.Log(pad.Average()) - (figure == PoolFigure.OverheadRatio ? Math.Log(cable.Average()) : 0);
        return (PoolCases.Audit(InvariantText.Of($"d{number}"), cable, PoolCases.OnPad(pad), gain: Gain, instrument: truth.OneMeter
            ? "one"
            : InvariantText.Of($"own {number}")),
            effect, found - Middle(figure));
    }

    // Energies about 14 Wh, overhead ratios about 1.4.
    private static double Base => Math.Log(14);

    private static double Middle(PoolFigure figure) => figure == PoolFigure.OverheadRatio ? Math.Log(1.4) : Math.Log(14);

    private static bool Holds(PooledValue interval, double effect, PoolFigure figure) =>
        Math.Log(interval.Low!.Value) <= Middle(figure) + effect && Math.Log(interval.High!.Value) >= Middle(figure) + effect;

    private static double Width(PooledValue interval) => Math.Log(interval.High!.Value / interval.Low!.Value);

    // Spread, scatters and gain known, best weights, normal factor.
    private static (double Mean, double Device) Ideal(PoolTruth truth, PoolFigure figure, double[] scatters)
    {
        double ofGain = figure == PoolFigure.OverheadRatio ? 0 : Gain * Gain, sides = figure == PoolFigure.OverheadRatio ? 2 : 1;
        double precision = scatters.Sum(s => 1 / ((truth.Spread * truth.Spread) + (sides * s * s / Runs) + (truth.OneMeter ? 0 : ofGain)));
        double mean = (1 / precision) + (truth.OneMeter ? ofGain : 0);
        return (2 * 1.96 * Math.Sqrt(mean), 2 * 1.96 * Math.Sqrt(mean + (truth.Spread * truth.Spread)));
    }
}

using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Standby;

/// <summary>The words that go with a stand-by power.</summary>
internal static class StandbyWords
{
    public static string Method(StandbyMethod method, double intervalS, MeasuringPoint? point)
    {
        string name = method switch
        {
            StandbyMethod.Sampling => "the sampling method of IEC 62301",
            StandbyMethod.SamplingOverCycles => "the sampling method of IEC 62301 over whole cycles",
            StandbyMethod.AccumulatedEnergy => "the accumulated-energy method of IEC 62301",
            _ => "the mean of the last four hours (US procedure)",
        };

        // The standard is about mains power read at least once a second; elsewhere only its arithmetic is borrowed.
        return intervalS > 1 || point is not MeasuringPoint.Wall ? "similar to " + name : name;
    }

    public static PulseCoverage Coverage(StandbySamples samples, ReadOnlySpan<double> used)
    {
        double readings = PulsePeriod.ReadingsAPulse(used);
        return readings == 0 ? PulseCoverage.NoPulses
            : samples.Kind is SampleKind.AverageEnding or SampleKind.AverageStarting ? PulseCoverage.MeterAverages
            : readings >= 4 ? PulseCoverage.SeveralReadingsAPulse
            : PulseCoverage.NotCarried;
    }

    public static IReadOnlyList<string> Notes(StandbySamples samples, Stability stability, PulseCoverage pulses, double? periodS)
    {
        var notes = new List<string>();
        if (samples.TotalS < 900)
        {
            notes.Add(Prose.Of($"The log of {samples.TotalS / 60:F1} min is shorter than the 15 min that the method asks for."));
        }

        if (stability == Stability.Drifting)
        {
            notes.Add("Power still drifts by more than the method allows; log for longer.");
        }

        if (samples.IntervalS > 1)
        {
            notes.Add(Prose.Of($"Readings come every {samples.IntervalS:G3} s; the method asks for one a second or more."));
        }

        if (pulses == PulseCoverage.NotCarried)
        {
            notes.Add(
                Prose.Of(
                    $"The charger draws in pulses about as short as the {samples.IntervalS:G3} s between readings: slow instantaneous "
                + $"readings can miss most of them or count them several times over, so this figure may be wrong by a factor. Use an "
                + $"averaging meter or an energy counter."));
        }

        if (periodS is { } period && period < 4 * samples.IntervalS)
        {
            notes.Add(
                Prose.Of(
                    $"The period of {period:G3} s seen in the readings is close to the interval between them, and may be an alias of "
                + $"faster pulses."));
        }

        if (samples.Point == MeasuringPoint.Wall)
        {
            notes.Add("Maximum current ratio: not shown, as peak current was not recorded.");
        }

        return notes;
    }
}

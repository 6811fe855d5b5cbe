using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>Logs that were read and still give no energy that anyone should use.</summary>
internal static class LogRefusals
{
    public static void Check(string file, LogSummary summary, LogLayout layout, PowerSource source, MeasuringPoint? point)
    {
        if (source == PowerSource.EnergyCounter && summary.CounterIsUseless)
        {
            throw Refuse(
                $"{file}: its energy counter falls again and again, so it gives no energy; log power, or a counter that "
                + $"only rises");
        }

        if (source == PowerSource.EnergyCounter && summary.Samples >= 2 && summary.CoveredS.Value <= 0)
        {
            throw Refuse($"{file}: its energy counter holds fewer than two good readings; check its column, or log power as well",
                Remedy.Inspect);
        }

        if (summary.Samples < 2 || summary.CoveredS.Value <= 0)
        {
            throw summary.Reversed.Count > 0 && summary.Samples >= 2
                ? Refuse($"{file}: all its readings are negative; {WrongWay}", Remedy.Sign)
                : Refuse(
                    $"{file}: {summary.Samples} of its rows give power, and an energy needs at least two; check that this is the right "
                    + $"log, and its columns", Remedy.Inspect);
        }

        // Many readings below zero may be a waiting meter's offset; more energy below zero than above it cannot.
        if (-summary.ReversedJ.Value > Math.Max(0, summary.EnergyJ.Value))
        {
            throw Refuse(
                $"{file}, line {summary.Reversed.FirstLine}: {summary.Reversed.Count} of {summary.Samples} readings are negative and hold "
                + $"{-summary.ReversedJ.Value / 3600:G3} Wh, more than flows the other way; {WrongWay}", Remedy.Sign);
        }

        double meanV = summary.VoltSeconds.Value / summary.CoveredS.Value;
        if (source == PowerSource.DirectCurrentProduct && point is null && meanV > PowerRule.GreatestDirectVoltageV)
        {
            throw Refuse(
                $"{file}: a mean of {meanV:F0} V is mains, and there voltage times current is apparent power, not the energy taken; log "
                + $"real power (W), the power factor or an energy counter as well");
        }

        if (layout.MedianIntervalS <= 0)
        {
            throw Refuse($"{file}: all rows carry the same time, so no energy can be worked out; log the time of each row");
        }
    }

    /// <summary>A log whose clock goes back again and again is not in order of time.</summary>
    public static void CheckOrder(string file, ReadOutcome outcome)
    {
        const int MostSteps = 3;
        const int RowsOfAStep = 200;
        if (outcome.Faults.FirstOrDefault(f => f.Kind == FaultKind.ClockStep) is { Count: > MostSteps } steps
            && outcome.Rows < RowsOfAStep * steps.Count)
        {
            throw Refuse(
                $"{file}, line {steps.FirstLine}: from here on the time goes back {steps.Count} times in {outcome.Rows} rows; its rows are "
                + $"not in order of time, or were exported more than once: sort them by time and leave out what is there twice");
        }
    }

    public static void CheckFaults(string file, IReadOnlyList<Fault> faults, LogOptions options)
    {
        if (options.Gaps == GapPolicy.Refuse && faults.FirstOrDefault(f => f.Kind == FaultKind.Gap) is { } gap)
        {
            throw Refuse(
                $"{file}, line {gap.FirstLine}: {gap.Count} gap(s), and gaps were to be refused; have them bridged or left out, or give a "
                + $"log without gaps", Remedy.Gaps);
        }

        if (options.Strict && faults.Count > 0)
        {
            var first = faults[0];
            throw Refuse(
                $"{file}, line {first.FirstLine}: {StableName.Of(first.Kind)}: {first.Detail.TrimEnd('.')}; correct the log, or go on "
                    + $"with the fault counted", Remedy.Strict);
        }
    }

    private const string WrongWay =
        "the sensor probably faces the other way: say so, or sign = \"turned\" for this meter in the study, or turn the sensor";

    private static InputException Refuse(InvariantText sentence, Remedy remedy = Remedy.None) =>
        new(InputProblem.Unusable, sentence.ToStringAndClear()) { Remedy = remedy };
}

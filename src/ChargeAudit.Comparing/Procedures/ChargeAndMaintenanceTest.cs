using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// What the charge and maintenance test gives. <i>Source:</i> 10 CFR 430 subpart B appendix Y, sections 3.3.2 (duration), 3.3.6 (logging),
/// 3.3.9 (maintenance power) and 3.3.10 (24-hour energy).
/// </summary>
/// <param name="DurationH">Duration that the procedure asks for, tcd. [h]</param>
/// <param name="E24">Energy of the test. [Wh]</param>
/// <param name="MaintenancePower">[W]</param>
/// <param name="Window">How maintenance power was averaged; null where it was not.</param>
/// <param name="Checks">The conditions that a log can show.</param>
public sealed record ChargeAndMaintenanceTest(
    double DurationH, Figure E24, Figure MaintenancePower, MaintenanceWindow? Window, IReadOnlyList<ProcedureCheck> Checks)
{
    private const double HourS = 3600;
    private const double ToleranceS = 300;

    /// <summary>No test, with the reason.</summary>
    /// <param name="check">Id of the condition that does not hold.</param>
    /// <param name="why">What is missing, and what to do, as a sentence without a full stop.</param>
    public static ChargeAndMaintenanceTest None(string check, string why) =>
        new(24, Figure.None(why), Figure.None(why), null, [new ProcedureCheck(check, ConditionState.NotMet, why)]);

    /// <summary>Reads a log as the test.</summary>
    /// <param name="log">The log.</param>
    public static ChargeAndMaintenanceTest From(ChargeAndMaintenanceLog log)
    {
        double fullH = log.FullAtS is { } full ? (full - log.TestStartS) / HourS : double.NaN;
        double durationH = fullH > 19 ? fullH + 5 : 24;
        double wantedEndS = log.TestStartS + (durationH * HourS);
        double foundH = (log.LogEndS - log.TestStartS) / HourS;
        bool longEnough = log.LogEndS >= wantedEndS - ToleranceS;
        var checks = new List<ProcedureCheck>
        {
            Check("test-duration", longEnough,
                $"the test lasts {durationH:0.##} h within 5 min (3.3.2); the log holds {foundH:0.##} h from the start of the charge"),
            Check("logging-interval", log.MedianIntervalS <= 60,
                $"input power is written down at least once a minute (3.3.6); the log has a row every {log.MedianIntervalS:0.##} s"),
            log.FullAtS is null
                ? new ProcedureCheck("full-indication", ConditionState.NotShown,
                    "24 h are enough where the charger shows full within 19 h; one that shows nothing is tested for the longest charge "
                    + "time stated for it plus 5 h, where that time is above 19 h, and one with only a stated charge current for 24 h or "
                    + "the longer time that follows from it (3.3.2); the study does not say when it showed full (full-at)")
                : Check("full-indication", true,
                    $"the charger showed full after {fullH:0.##} h, so the test lasts {durationH:0.##} h (3.3.2)"),
        };
        if (!longEnough)
        {
            string why = Prose.Of($"the log holds {foundH:0.##} h of the {durationH:0.##} h that the procedure asks for");
            return new ChargeAndMaintenanceTest(durationH, Figure.None(why), Figure.None(why), null, checks);
        }

        double endS = Math.Min(log.LogEndS, wantedEndS);
        double bridged = log.Envelope.BridgedBetweenS(log.TestStartS, endS)
            + (endS - log.TestStartS - log.Envelope.CoveredBetweenS(log.TestStartS, endS));
        checks.Add(
            Check("no-gaps", bridged < 60, $"the record has no holes (3.3.6); {Math.Max(0, bridged):0.#} s of the test were not logged"));
        if (durationH > 24)
        {
            checks.Add(
                new ProcedureCheck("long-test", ConditionState.NotShown,
                "for a test longer than 24 h the text leaves open whether E24 is the energy of the whole test or of 24 h of it; here it is "
                + "the whole test"));
        }

        double maintenanceFromS = log.ChargeEndS ?? log.FullAtS ?? (endS - (5 * HourS));
        var window = MaintenanceWindow.Find(log.Envelope, maintenanceFromS, endS);
        checks.Add(
            Check("four-hours-of-maintenance", maintenanceFromS <= endS - (4 * HourS) + ToleranceS,
            $"maintenance power is the mean over the last 4 h at least (3.3.9); the charge ended {(endS - maintenanceFromS) / HourS:0.##} "
            + $"h before the end of the test"));
        return new ChargeAndMaintenanceTest(
            durationH, Figure.Of(log.EnergyWh(log.TestStartS, endS)), Figure.Of(log.PowerW(window.FromS, window.ToS)), window, checks);
    }

    private static ProcedureCheck Check(string id, bool holds, InvariantText text) =>
        new(id, holds ? ConditionState.Met : ConditionState.NotMet, text.ToStringAndClear());
}

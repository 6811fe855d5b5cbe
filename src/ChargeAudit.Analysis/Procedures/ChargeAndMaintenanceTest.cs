using System.Globalization;
using ChargeAudit.Analysis.Integration;
using ChargeAudit.Analysis.Results;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Analysis.Procedures;

/// <summary>A 24 h log (or a longer one) at the charger's input, to be read as the charge and maintenance test.</summary>
public sealed record ChargeAndMaintenanceLog
{
    /// <summary>Power over time, at the charger's input.</summary>
    public required PowerEnvelope Envelope { get; init; }

    /// <summary>When the battery was connected. [s]</summary>
    public double TestStartS { get; init; }

    /// <summary>End of the log. [s]</summary>
    public required double LogEndS { get; init; }

    /// <summary>When the charger said that the battery is full; null: it did not say. [s]</summary>
    public double? FullAtS { get; init; }

    /// <summary>When the charge ended by its own power, for finding cycles; null: where full was shown, or the test's last 5 h. [s]</summary>
    public double? ChargeEndS { get; init; }

    /// <summary>Usual time between rows. [s]</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>Energy between two times with its uncertainty, in Wh; null: the envelope's value, its uncertainty unknown.</summary>
    public Func<double, double, Measured>? EnergyBetween { get; init; }

    /// <summary>Energy between two times. [Wh]</summary>
    internal Measured EnergyWh(double fromS, double toS) => EnergyBetween?.Invoke(fromS, toS)
        ?? Measured.Unknown(Envelope.EnergyBetweenJ(fromS, toS) / 3600, "Wh", "the meter's accuracy was not given");

    /// <summary>Mean power between two times. [W]</summary>
    internal Measured PowerW(double fromS, double toS) => EnergyWh(fromS, toS).In("W", 3600 / (toS - fromS));
}

/// <summary>
/// What the charge and maintenance test gives. <i>Source:</i> 10 CFR 430 subpart B appendix Y, sections 3.3.2 (duration), 3.3.6 (logging), 3.3.9
/// (maintenance power) and 3.3.10 (24-hour energy).
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
            Check("test-duration", longEnough, $"the test lasts {durationH:0.##} h within 5 min (3.3.2); the log holds {foundH:0.##} h from the start of the charge"),
            Check("logging-interval", log.MedianIntervalS <= 60, $"input power is written down at least once a minute (3.3.6); the log has a row every {log.MedianIntervalS:0.##} s"),
            log.FullAtS is null
                ? new ProcedureCheck("full-indication", ConditionState.NotShown, "24 h are enough where the charger shows full within 19 h (3.3.2); the study does not say when it showed full (full-at)")
                : Check("full-indication", true, $"the charger showed full after {fullH:0.##} h, so the test lasts {durationH:0.##} h (3.3.2)"),
        };
        if (!longEnough)
        {
            string why = string.Create(CultureInfo.InvariantCulture, $"the log holds {foundH:0.##} h of the {durationH:0.##} h that the procedure asks for");
            return new ChargeAndMaintenanceTest(durationH, Figure.None(why), Figure.None(why), null, checks);
        }

        double endS = Math.Min(log.LogEndS, wantedEndS);
        double bridged = log.Envelope.BridgedBetweenS(log.TestStartS, endS) + (endS - log.TestStartS - log.Envelope.CoveredBetweenS(log.TestStartS, endS));
        checks.Add(Check("no-gaps", bridged < 60, $"the record has no holes (3.3.6); {Math.Max(0, bridged):0.#} s of the test were not logged"));
        if (durationH > 24)
        {
            checks.Add(new ProcedureCheck("long-test", ConditionState.NotShown, "for a test longer than 24 h the text leaves open whether E24 is the energy of the whole test or of 24 h of it; here it is the whole test"));
        }

        double maintenanceFromS = log.ChargeEndS ?? log.FullAtS ?? (endS - (5 * HourS));
        var window = MaintenanceWindow.Find(log.Envelope, maintenanceFromS, endS);
        checks.Add(Check("four-hours-of-maintenance", maintenanceFromS <= endS - (4 * HourS) + ToleranceS, $"maintenance power is the mean over the last 4 h at least (3.3.9); the charge ended {(endS - maintenanceFromS) / HourS:0.##} h before the end of the test"));
        return new ChargeAndMaintenanceTest(
            durationH, Figure.Of(log.EnergyWh(log.TestStartS, endS)), Figure.Of(log.PowerW(window.FromS, window.ToS)), window, checks);
    }

    private static ProcedureCheck Check(string id, bool holds, FormattableString text) =>
        new(id, holds ? ConditionState.Met : ConditionState.NotMet, text.ToString(CultureInfo.InvariantCulture));
}

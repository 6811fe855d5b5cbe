using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;

namespace ChargeAudit.Simulation.Output;

/// <summary>Writes the study file of a simulated study, as a person who knows the meters' data sheets but not the truth would.</summary>
internal static class StudyText
{
    /// <summary>The text of the study file.</summary>
    /// <param name="study">The simulated study.</param>
    /// <returns>TOML; lines end in line feed.</returns>
    public static string Write(SimulatedStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        SimulationScenario scenario = study.Scenario;
        StringBuilder text = new();
        Line(text, $"title = {Quoted(scenario.Title)}");
        Line(text, $"reference = {Quoted(scenario.Methods[0].Name)}");
        Line(text, $"");
        Line(text, $"[device]");
        Line(text, $"name = {Quoted(scenario.Device.Name)}");
        Line(text, $"battery = \"{scenario.Device.BatteryWh} Wh\"");
        foreach (MeterModel meter in scenario.Meters)
        {
            Meter(text, meter);
        }

        foreach (MethodModel method in scenario.Methods)
        {
            Line(text, $"");
            Line(text, $"[methods.{Key(method.Name)}]");
            Line(text, $"kind = \"{(method.Kind == MethodKind.Wired ? "wired" : "inductive")}\"");
        }

        foreach (SimulatedRun run in study.Runs)
        {
            Run(text, run);
        }

        foreach (SimulatedRun waiting in study.Waiting)
        {
            Line(text, $"");
            Line(text, $"[[standby]]");
            Line(text, $"method = {Quoted(waiting.Plan.Method.Name)}");
            Logs(text, waiting.Logs);
        }

        Ending(text, scenario);
        return text.ToString();
    }

    private static void Meter(StringBuilder text, MeterModel meter)
    {
        Line(text, $"");
        Line(text, $"[meters.{Key(meter.Name)}]");
        Line(text, $"point = \"{StableName.Of(meter.Point)}\"");
        if (meter.Instrument is { } instrument)
        {
            Line(text, $"instrument = {Quoted(instrument)}");
        }

        string accuracy = string.Join(", ", meter.Columns.Where(c => c.Accuracy is not null)
            .Select(c => $"{StableName.Of(c.Quantity)} = {Quoted(c.Accuracy!)}"));
        if (accuracy.Length > 0)
        {
            Line(text, $"accuracy = {{ {accuracy} }}");
        }

        string samples = meter.Samples switch
        {
            SampleKind.AverageEnding => "average-ending",
            SampleKind.AverageStarting => "average-starting",
            _ => "instantaneous",
        };
        Line(text, $"samples = \"{samples}\"");
    }

    private static void Run(StringBuilder text, SimulatedRun run)
    {
        Line(text, $"");
        Line(text, $"[[runs]]");
        Line(text, $"method = {Quoted(run.Plan.Method.Name)}");
        Logs(text, run.Logs);
        Line(text, $"start-charge = {Math.Round(100 * run.Plan.StartShare!.Value, 1)}");
        Line(text, $"end-charge = 100");
        if (run.Plan.Place is { } place)
        {
            string gap = place.GapM is { } gapM ? InvariantText.Of($", gap = \"{Math.Round(1000 * gapM, 6)} mm\"") : "";
            Line(text,
                $"factors = {{ offset-x = \"{Math.Round(1000 * place.XM, 6)} mm\", offset-y = \"{Math.Round(1000 * place.YM, 6)} "
                + $"mm\"{gap} }}");
        }

        if (run.Plan.Exclude is { } why)
        {
            Line(text, $"exclude = {Quoted(why)}");
        }
    }

    private static void Logs(StringBuilder text, IReadOnlyList<SimulatedLog> logs) =>
        Line(text, $"logs = {{ {string.Join(", ", logs.Select(Entry))} }}");

    private static string Entry(SimulatedLog l) =>
        $"{StableName.Of(l.Meter.Point)} = {{ file = {Quoted(l.FileName)}, meter = {Quoted(l.Meter.Name)} }}";

    private static void Ending(StringBuilder text, SimulationScenario scenario)
    {
        if (scenario.Use is { } use)
        {
            Line(text, $"");
            Line(text, $"[use]");
            Line(text, $"charges-per-week = {use.ChargesPerWeek}");
            Line(text, $"charge-share = {use.ChargeSharePercent}");
            if (use.HoursOnChargerPerCharge is { } hours)
            {
                Line(text, $"hours-on-charger-per-charge = {hours}");
            }

            Line(text, $"plugged-in-all-day = {(use.PluggedInAllDay ? "true" : "false")}");
        }

        if (scenario.Tariff is { } tariff)
        {
            Line(text, $"");
            Line(text, $"[tariff]");
            Line(text, $"currency = {Quoted(tariff.Currency)}");
            Line(text, $"price = {tariff.PricePerKwh}");
        }
    }

    // A name that is not a bare key is quoted. *Source:* TOML 1.0.0, Keys.
    private static string Key(string name) =>
        name.Length > 0 && name.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_') ? name : Quoted(name);

    private static string Quoted(string text) =>
        "\"" + text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal) + "\"";

    private static void Line(StringBuilder text, InvariantText line) => text.Append(line.ToStringAndClear()).Append('\n');
}

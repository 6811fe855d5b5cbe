using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Toml;

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
        Line(text, $"title = {TomlText.Quoted(scenario.Title)}");
        Line(text, $"reference = {TomlText.Quoted(scenario.Methods[0].Name)}");
        Line(text, $"");
        Line(text, $"[device]");
        Line(text, $"name = {TomlText.Quoted(scenario.Device.Name)}");
        Line(text, $"battery = \"{scenario.Device.BatteryWh} Wh\"");
        foreach (MeterModel meter in scenario.Meters)
        {
            Meter(text, meter);
        }

        foreach (MethodModel method in scenario.Methods)
        {
            Line(text, $"");
            Line(text, $"[methods.{TomlText.Key(method.Name)}]");
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
            Line(text, $"method = {TomlText.Quoted(waiting.Plan.Method.Name)}");
            Logs(text, waiting.Logs);
        }

        Ending(text, scenario);
        return text.ToString();
    }

    private static void Meter(StringBuilder text, MeterModel meter)
    {
        Line(text, $"");
        Line(text, $"[meters.{TomlText.Key(meter.Name)}]");
        Line(text, $"point = \"{StableName.Of(meter.Point)}\"");
        if (meter.Instrument is { } instrument)
        {
            Line(text, $"instrument = {TomlText.Quoted(instrument)}");
        }

        string accuracy = string.Join(", ", meter.Columns.Where(c => c.Accuracy is not null)
            .Select(c => $"{StableName.Of(c.Quantity)} = {TomlText.Quoted(c.Accuracy!)}"));
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
        Line(text, $"method = {TomlText.Quoted(run.Plan.Method.Name)}");
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
            Line(text, $"exclude = {TomlText.Quoted(why)}");
        }
    }

    private static void Logs(StringBuilder text, IReadOnlyList<SimulatedLog> logs) =>
        Line(text, $"logs = {{ {string.Join(", ", logs.Select(Entry))} }}");

    private static string Entry(SimulatedLog l) =>
        $"{StableName.Of(l.Meter.Point)} = {{ file = {TomlText.Quoted(l.FileName)}, meter = {TomlText.Quoted(l.Meter.Name)} }}";

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
            Line(text, $"currency = {TomlText.Quoted(tariff.Currency)}");
            Line(text, $"price = {tariff.PricePerKwh}");
        }
    }

    private static void Line(StringBuilder text, InvariantText line) => text.Append(line.ToStringAndClear()).Append('\n');
}

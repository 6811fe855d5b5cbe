using System.Text.Json;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>The answer of an audit in JSON.</summary>
internal static class AuditJson
{
    private const string NotGiven = "not given";

    /// <summary>Writes the members of the document.</summary>
    public static void Write(Utf8JsonWriter json, AuditResult result)
    {
        json.WriteString("title", result.Study.Title);
        json.WriteString("reference", result.Study.Reference);
        json.Object("device", () =>
        {
            LogJson.Optional(json, "name", result.Study.Device.Name, "the study names no device");
            json.Number("batteryWh", result.Study.Device.BatteryWh, NotGiven);
            json.Number("batteryDischargeWh", result.Study.Device.BatteryDischargeWh, NotGiven);
            json.Number("batteryDischargeWithinWh", result.Study.Device.BatteryDischargeWithinWh, NotGiven);
        });
        json.Objects("instruments", result.Study.Meters.Values.Where(m => m.Instrument is not null), m =>
        {
            json.WriteString("meter", m.Name);
            json.WriteString("instrument", m.Instrument);
        });
        Tariff(json, result);
        json.Strings("assumptions", result.Assumptions);
        json.Objects("methods", result.Methods, m => Method(json, m));
        json.Objects("stages", result.Stages, s =>
        {
            json.WriteString("method", s.Method);
            json.WriteString("from", StableName.Of(s.From));
            json.WriteString("to", StableName.Of(s.To));
            json.Figure("efficiency", s.Efficiency);
            json.Figure("loss", s.Loss);
            ChainJson.Check(json, s.Check);
        });
        ChainJson.Losses(json, result);
        json.Objects("comparisons", result.Comparisons, c =>
        {
            json.WriteString("reference", c.Reference);
            json.WriteString("method", c.Method);
            json.WriteString("point", StableName.Of(c.Point));
            json.Figure("overheadRatio", c.OverheadRatio);
            json.Figure("extraEnergyPerCharge", c.ExtraEnergyPerCharge);
            json.Figure("extraCostPerYear", c.ExtraCostPerYear);
            ChainJson.EndRules(json, c);
        });
        YearComparisonJson.Write(json, result);
        PublishedJson.Write(json, result);
        PlacementJson.Write(json, result);
        json.Objects("fairness", result.Fairness, f =>
        {
            json.WriteString("id", f.Id);
            json.WriteString("text", f.Text);
            json.Strings("runs", f.Runs);
        });
        json.Strings("doubts", result.Doubts);
        json.Objects("faults", result.Logs.SelectMany(l => l.Faults, (log, fault) => (log, fault)), f =>
        {
            json.WriteString("file", f.log.Files[0]);
            LogJson.Fault(json, f.fault);
        });
        json.Objects("logs", result.Logs, log => LogJson.Log(json, log));
        Provenance(json, result);
    }

    private static void Tariff(Utf8JsonWriter json, AuditResult result)
    {
        if (result.Study.Tariff is { } tariff)
        {
            json.Object("tariff", () =>
            {
                json.WriteString("currency", tariff.Currency);
                json.Number("pricePerKwh", tariff.PricePerKwh, "the price depends on the hour or on the household's consumption");
                json.WriteString("inWords", TariffText.Of(tariff));
            });
        }
        else
        {
            json.Missing("tariff", "the study gives no price");
        }
    }

    private static void Method(Utf8JsonWriter json, MethodResult method)
    {
        json.WriteString("name", method.Name);
        json.WriteString("kind", StableName.Of(method.Kind));
        json.Objects("runs", method.Runs, r => Run(json, r));
        json.Object("points", () =>
        {
            foreach (var point in Enum.GetValues<MeasuringPoint>())
            {
                if (method.Points.TryGetValue(point, out var at))
                {
                    json.Object(StableName.Of(point), () => Point(json, at));
                }
                else
                {
                    json.Missing(StableName.Of(point), "no meter sat there");
                }
            }
        });
        json.Object("yearly", () =>
        {
            json.Figure("energy", method.Yearly.Energy);
            json.Figure("cost", method.Yearly.Cost);
            json.Objects("byMode", method.Yearly.ByMode, m =>
            {
                json.WriteString("mode", StableName.Of(m.Mode));
                json.Number("hoursPerYear", m.HoursPerYear);
                json.Figure("energy", m.Energy);
                json.Figure("cost", m.Cost);
            });
            YearJson.Write(json, method.Yearly.Detail);
        });
        MethodCoilsJson.Write(json, method);
    }

    private static void Point(Utf8JsonWriter json, PointResult at)
    {
        json.Figure("energyPerCharge", at.EnergyPerCharge);
        json.WriteStartArray("runEnergiesWh");
        foreach (double energyWh in at.RunEnergiesWh)
        {
            json.WriteNumberValue(energyWh);
        }

        json.WriteEndArray();
        json.Number("chargeDurationS", at.ChargeDurationS);
        json.Figure("maintenancePower", at.MaintenancePower);
        json.Figure("noLoadPower", at.NoLoadPower);
        json.Strings("standbyNotes", at.StandbyNotes);
    }

    private static void Run(Utf8JsonWriter json, RunResult run)
    {
        json.WriteString("id", run.Id);
        json.Time("start", run.Start, "the logs hold elapsed time only");
        json.WriteBoolean("excluded", run.Excluded is not null);
        if (run.Excluded is not null)
        {
            json.WriteString("excludedReason", run.Excluded);
        }

        json.Number("startChargePercent", run.StartChargePercent, NotGiven);
        json.Number("endChargePercent", run.EndChargePercent, NotGiven);
        PlacementJson.Factors(json, run.Factors);
        json.Number("temperatureC", run.TemperatureC, "neither the study nor a log tells it");
        LogJson.Optional(json, "adapter", run.Adapter, NotGiven);
        ChainJson.Clocks(json, run);
        json.Object("points", () =>
        {
            foreach (var (point, seen) in run.Points.OrderBy(p => p.Key))
            {
                json.Object(StableName.Of(point), () =>
                {
                    json.Measured("energy", seen.Energy);
                    json.Object("charge", () => LogJson.Span(json, seen.Log.Layout, seen.Charge.StartS, seen.Charge.EndS));
                    json.Figure("maintenancePower", seen.Maintenance);
                    LogJson.Optional(json, "meter", seen.Meter, "no meter is named");
                    json.Strings("files", seen.Log.Files);
                });
            }
        });
    }

    private static void Provenance(Utf8JsonWriter json, AuditResult result) => json.Object("provenance", () =>
    {
        var from = result.Provenance;
        json.WriteString("programVersion", from.ProgramVersion);
        LogJson.Optional(json, "study", from.StudyFile, "there was no study file");
        LogJson.Optional(json, "studySha256", from.StudySha256, "there was no study file");
        json.WriteString("created", from.Created);
        LogJson.Optional(json, "commandLine", from.CommandLine, "no command made these results; a program called the library");
        if (from.Drafted)
        {
            json.WriteBoolean("drafted", true);
            DraftJson.PassedOver(json, from.PassedOver);
        }

        json.Objects("logs", result.Logs.SelectMany(l => l.Files.Zip(l.Sha256)), f =>
        {
            json.WriteString("file", f.First);
            json.WriteString("sha256", f.Second);
        });
    });
}

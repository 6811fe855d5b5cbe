using System.Text.Json;
using ChargeAudit.Comparing.Yearly;

namespace ChargeAudit.Reports.Json;

/// <summary>What else is known of a year, in JSON.</summary>
internal static class YearJson
{
    /// <summary>Writes the member <c>detail</c>.</summary>
    public static void Write(Utf8JsonWriter json, YearDetail? detail)
    {
        if (detail is null)
        {
            json.Missing("detail", "the hours of a year are not known");
            return;
        }

        json.Object("detail", () =>
        {
            json.Number("hoursPerYear", detail.HoursPerYear);
            json.Number("chargesPerYear", detail.ChargesPerYear);
            json.Figure("energyPerUsualCharge", detail.EnergyPerUsualCharge);
            json.Figure("costPerCharge", detail.CostPerCharge);
            json.Figure("costPerChargeWithStandby", detail.CostPerChargeWithStandby);
            json.Figure("standbyEnergy", detail.StandbyEnergy);
            json.Figure("standbyShare", detail.StandbyShare);
            Saving(json, "unplugging", detail.Unplugging);
            Saving(json, "unpluggingWhenFull", detail.UnpluggingWhenFull);
            json.Figure("fixedCharges", detail.FixedCharges);
            json.Figure("co2", detail.Co2);
            json.Objects("tornado", detail.Tornado, bar =>
            {
                json.WriteString("what", bar.What);
                json.WriteString("unit", bar.Unit);
                json.Number("low", bar.Low);
                json.Number("high", bar.High);
                json.Number("resultLow", bar.ResultLow);
                json.Number("resultHigh", bar.ResultHigh);
                json.WriteString("resultUnit", bar.ResultUnit);
                json.WriteString("basis", bar.Basis);
            });
            Draws(json, "energyMonteCarlo", detail.EnergyMonteCarlo, detail.NoMonteCarloBecause);
            Draws(json, "costMonteCarlo", detail.CostMonteCarlo, detail.NoMonteCarloBecause ?? "there is no price");
            json.Strings("assumptions", detail.Assumptions);
        });
    }

    private static void Saving(Utf8JsonWriter json, string name, Saving saving) => json.Object(name, () =>
    {
        json.Figure("energy", saving.Energy);
        json.Figure("cost", saving.Cost);
    });

    private static void Draws(Utf8JsonWriter json, string name, MonteCarloInterval? interval, string? whyNot)
    {
        if (interval is null)
        {
            json.Missing(name, whyNot);
            return;
        }

        json.Object(name, () =>
        {
            json.Number("low", interval.Low);
            json.Number("median", interval.Median);
            json.Number("high", interval.High);
            json.Number("coverage", interval.Coverage);
            json.WriteNumber("draws", interval.Draws);
            json.WriteNumber("seed", interval.Seed);
        });
    }
}

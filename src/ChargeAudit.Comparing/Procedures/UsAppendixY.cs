using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// The US test procedure for battery chargers, worked out from logs. It is information for engineers and no certificate.
/// <i>Source:</i> 10 CFR 430 subpart B appendix Y.
/// </summary>
public static class UsAppendixY
{
    /// <summary>What is said beside the limit of a pad that no class covers.</summary>
    public const string OfTheCable = "This is the limit for the same battery charged by cable; the rule has none for this pad.";

    /// <summary>Rules that are named with the procedure, without a number: their texts were not read.</summary>
    public static IReadOnlyList<string> NamedOnly { get; } =
    [
        "Named only: 10 CFR 430.32(w) limits external power supplies in the United States, the adapter among them. Its text was not read, "
            + "so no number is given and nothing is compared.",
        "Named only: California Code of Regulations, title 20, section 1605.3(w), holds a rule for inductive charger systems. Its text was "
            + "not read, so no number is given and nothing is compared.",
    ];

    /// <summary>Works the procedure out.</summary>
    /// <param name="input">Tests, battery and sort of charger.</param>
    public static UsAppendixYResult Of(UsAppendixYInput input)
    {
        var battery = Battery(input.Device);
        double? wh = input.Device.BatteryDischargeWh ?? input.Device.BatteryWh;
        var usage = wh is { } energy && input.Device.BatteryV is { } volts ? UsageClass.For(energy, volts, input.Coupling) : null;
        var noBattery = input.NoBattery?.Power ?? Figure.None("there is no log of the charger with no battery");
        var off = input.Off?.Power ?? Figure.None("off mode does not apply: the charger has no switch");
        bool covered = usage is not null && (input.Coupling == ChargerCoupling.Wired || usage.Number == 1);
        var checks = Checks(input, usage, covered);
        var (equation, uec) = Uec(input, usage, battery, noBattery);
        var limit = usage is not null && wh is { } x && Yardsticks.At($"us-430-32-z/class-{usage.Number}", x) is { } yardstick
            ? Yardsticks.Compare(yardstick, x, uec, covered ? null : OfTheCable, battery.Value)
            : null;
        var verdict = !covered && input.Coupling != ChargerCoupling.Wired
            ? ProcedureVerdict.OutsideScope
            : checks.Any(c => c.State == ConditionState.NotMet) ? ProcedureVerdict.NotMet : ProcedureVerdict.NothingAgainst;
        return new UsAppendixYResult(
            usage, battery, input.Test, noBattery, off, equation, uec, limit, checks, verdict, Words(verdict, checks),
            AppendixY1Figures.Of(input.Placement, input.ActiveChargeEnergy, input.Test, noBattery, off));
    }

    private static Figure Battery(DeviceInfo device)
    {
        if (device.BatteryDischargeWh is { } measured)
        {
            return Figure.Of(device.BatteryDischargeWithinWh is { } within
                ? Within(measured, within)
                : Measured.Unknown(measured, "Wh",
                    "the uncertainty of the battery's discharge energy was not given (battery-discharge-within under [device])"));
        }

        return device.BatteryWh is { } rated
            ? Figure.Of(Measured.Unknown(rated, "Wh", "the battery's energy is the rated one"),
                "the rated battery energy, which was not measured")
            : Figure.None("neither the battery's discharge energy nor its rated energy is given: give battery-discharge under [device]");
    }

    // Limits count as equally likely values between them (JCGM 100:2008, 4.3.7). One battery: every method subtracts the same error.
    private static Measured Within(double wh, double halfWidthWh) => Measured.From(
        wh, "Wh", halfWidthWh == 0
            ? []
            : [new UncertaintyComponent(new InfluenceSource("device/battery-discharge", Shared: true, Shape: ErrorShape.Rectangular),
                halfWidthWh / Math.Sqrt(3))]);

    private static (UecEquation? Equation, Figure Uec) Uec(UsAppendixYInput input, UsageClass? usage, Figure battery, Figure noBattery)
    {
        if (usage is null)
        {
            return (null, Figure.None(battery.WhyNot ?? "the class depends on the battery's voltage: give battery-voltage under [device]"));
        }

        var test = input.Test;
        var equation = UnitEnergyConsumption.EquationFor(usage, test.DurationH);
        string? missing = test.E24.WhyNot ?? test.MaintenancePower.WhyNot ?? battery.WhyNot
            ?? (usage.StandbyH > 0 ? noBattery.WhyNot : null);
        if (missing is not null)
        {
            return (equation, Figure.None(missing));
        }

        // No class has hours off, so off power never counts; it is passed on for the sake of the formula.
        var off = input.Off?.Power.Value ?? Measured.Exact(0, "W");
        var uec = UnitEnergyConsumption.Of(usage, test.E24.Value!, test.MaintenancePower.Value!, noBattery.Value
            ?? Measured.Exact(0, "W"), off, battery.Value!, test.DurationH);
        return (uec.Equation, Figure.Of(uec.KwhPerYear, battery.Assumed));
    }

    private static List<ProcedureCheck> Checks(UsAppendixYInput input, UsageClass? usage, bool covered)
    {
        var checks = new List<ProcedureCheck>(input.Test.Checks);
        checks.AddRange(input.NoBattery?.Checks
            ?? [new ProcedureCheck("no-battery-period", ConditionState.NotMet,
            "the charger is logged with no battery (3.3.11); there is no such log")]);
        checks.AddRange(input.Off?.Checks ?? []);
        bool measured = input.Device.BatteryDischargeWh is not null;
        checks.Add(new ProcedureCheck(
            "discharge-energy",
            measured ? ConditionState.Met : ConditionState.NotMet,
            measured ? "the battery's discharge energy was measured (3.3.8), as the study says"
                : "the battery's discharge energy is measured (3.3.8); the study gives no measured one (battery-discharge)"));
        if (usage is null)
        {
            checks.Add(
                new ProcedureCheck("class", ConditionState.NotMet,
                "the class follows from the battery's energy and voltage; the study does not give both (battery-discharge and "
                + "battery-voltage under [device])"));
        }

        if (input.Coupling != ChargerCoupling.Wired && !covered)
        {
            checks.Add(new ProcedureCheck("scope", ConditionState.NotMet,
                "of inductive chargers the procedure covers only class 1: batteries up to 5 Wh, made for wet environments"));
        }

        if (usage?.Mark == SourceMark.Memory)
        {
            checks.Add(new ProcedureCheck("usage-profile", ConditionState.NotShown,
                $"the profile of class {usage.Number} is from memory, not read: check it before relying on it"));
        }

        checks.Add(new ProcedureCheck("supply", ConditionState.NotShown,
            "supply of 115 V and 60 Hz within 1 %, harmonic distortion up to 2 %, crest factor 1.34 to 1.49 (3.1.4)"));
        checks.Add(new ProcedureCheck("ambient", ConditionState.NotShown,
            "20 °C within 5 °C, air no faster than 0.5 m/s, on a surface that is thermally non-conductive (3.1)"));
        checks.Add(
            new ProcedureCheck("product", ConditionState.NotShown,
            "a new product, charged at the fastest rate recommended for everyday use, with functions that charging does not need switched "
            + "off (3.2.2, 3.2.1(b), 3.2.4)"));
        checks.Add(
            new ProcedureCheck("instruments", ConditionState.NotShown, "instruments as IEC 62301, section 4 and annexes B and D, asks"));
        checks.Add(new ProcedureCheck("battery-preparation", ConditionState.NotShown,
            "the battery was discharged and rested for 1 h to 24 h before the test (3.3)"));
        return checks;
    }

    private static string Words(ProcedureVerdict verdict, List<ProcedureCheck> checks)
    {
        string failed = string.Join(", ", checks.Where(c => c.State == ConditionState.NotMet).Select(c => c.Id));
        return verdict switch
        {
            ProcedureVerdict.OutsideScope => $"arithmetic of the procedure, outside its scope; not a certificate (not met: {failed})",
            ProcedureVerdict.NotMet => $"procedure not met ({failed}); the figures are its arithmetic only, not a certificate",
            _ => "the logs show nothing against the procedure; what they cannot show is listed; not a certificate",
        };
    }
}

using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>How one method's charger is used over a week: the study's use with the method's own overrides, checked.</summary>
public sealed record UseProfile
{
    private UseProfile(Use use) => Use = use;

    /// <summary>The use after the method's overrides.</summary>
    public Use Use { get; private init; }

    /// <summary>Name of the source of error that the limits of the charges per week stand for; methods that share the study's limits share
    /// it.</summary>
    public InfluenceSource ChargesSource { get; private init; } = new("charges-per-week", Shape: ErrorShape.Rectangular)
    {
        Owner = SourceOwner.Use,
    };

    /// <summary>Share of a full charge, 0 to 1.</summary>
    public double Share => Use.ChargeSharePercent / 100;

    /// <summary>Charges in a week over all devices.</summary>
    public double WeeklyCharges => Use.ChargesPerWeek * Use.Devices;

    /// <summary>Weeks in the year that is assumed. 8 760 h are 52.142857 weeks.</summary>
    public double WeeksPerYear => HoursPerYear / WeekHours.Week;

    /// <summary>Hours in the year that is assumed. [h]</summary>
    public double HoursPerYear => Use.Year switch { YearLength.Julian => 8766, YearLength.Leap => 8784, _ => 8760 };

    /// <summary>The use, with every number checked.</summary>
    /// <param name="use">The study's use.</param>
    /// <param name="method">What the method differs in; null: nothing.</param>
    /// <param name="methodName">Name of the method; tells its own limits from the study's.</param>
    /// <exception cref="InputException">A number lies outside what it can be.</exception>
    public static UseProfile Of(Use use, UseOverride? method = null, string methodName = "own")
    {
        var given = new HashSet<string>(use.Given);
        given.UnionWith(method?.Given ?? new HashSet<string>());
        var merged = use with
        {
            ChargesPerWeek = Take(method?.ChargesPerWeek, use.ChargesPerWeek, "charges-per-week", given),
            ChargesPerWeekRange = method?.ChargesPerWeekRange ?? (method?.ChargesPerWeek is null ? use.ChargesPerWeekRange : null),
            ChargeSharePercent = Take(method?.ChargeSharePercent, use.ChargeSharePercent, "charge-share", given),
            HoursOnChargerPerCharge = method?.HoursOnChargerPerCharge ?? use.HoursOnChargerPerCharge,
            PluggedInAllDay = Take(method?.PluggedInAllDay, use.PluggedInAllDay, "plugged-in-all-day", given),
            Devices = Take(method?.Devices, use.Devices, "devices", given),
            ChargingStart = Take(method?.ChargingStart, use.ChargingStart, "charging-start", given),
            ChargingDays = method?.ChargingDays ?? use.ChargingDays,
            Given = given,
        };
        Check(merged);
        bool ownLimits = method?.ChargesPerWeekRange is not null || method?.ChargesPerWeek is not null;
        var profile = new UseProfile(merged);
        return ownLimits ? profile with { ChargesSource = profile.ChargesSource with { OwnerName = methodName } } : profile;
    }

    /// <summary>The same with another number of charges a week; the limits are left as they are.</summary>
    public UseProfile WithCharges(double perWeek) => this with { Use = Use with { ChargesPerWeek = perWeek } };

    /// <summary>The same with another share of a full charge. [%]</summary>
    public UseProfile WithSharePercent(double percent) => this with { Use = Use with { ChargeSharePercent = percent } };

    /// <summary>The same with other hours on the charger each time. [h]</summary>
    public UseProfile WithHoursOnCharger(double? hours) => this with { Use = Use with { HoursOnChargerPerCharge = hours } };

    /// <summary>The same with the charger kept in the socket, or pulled out between charges.</summary>
    public UseProfile WithPluggedIn(bool allDay) => this with { Use = Use with { PluggedInAllDay = allDay } };

    /// <summary>Time of a usual charge; a partial one takes its share of a full one's time. [h]</summary>
    /// <param name="fullChargeH">Time of a full charge. [h]</param>
    public double ChargeH(double fullChargeH) => fullChargeH * Share;

    /// <summary>Hours on the charger each time. [h]</summary>
    /// <param name="fullChargeH">Time of a full charge. [h]</param>
    /// <exception cref="InputException">The device is said to be taken off before the charge ends.</exception>
    public double OnChargerH(double fullChargeH)
    {
        double charge = ChargeH(fullChargeH);
        if (Use.HoursOnChargerPerCharge is not { } given || WeeklyCharges == 0)
        {
            return charge;
        }

        return given >= charge
            ? given
            : throw Unusable(
                $"[use] hours-on-charger-per-charge is {given:0.##} h, but a usual charge takes {charge:0.##} h: give at least that many "
                    + $"hours, or a smaller charge-share");
    }

    /// <summary>The week's hours by mode.</summary>
    /// <param name="fullChargeH">Time of a full charge. [h]</param>
    /// <exception cref="InputException">A week cannot hold the hours.</exception>
    public WeekHours Hours(double fullChargeH)
    {
        double on = OnChargerH(fullChargeH);
        double charge = WeeklyCharges * ChargeH(fullChargeH);
        double onWeek = WeeklyCharges * on;
        if (onWeek > WeekHours.Week * (1 + 1e-12))
        {
            throw Unusable(
                $"a week cannot hold this use: {WeeklyCharges:0.##} charges of {on:0.##} h on the charger are {onWeek:0.##} h, and a week "
                    + $"has 168 h: lower charges-per-week, hours-on-charger-per-charge or devices under [use]");
        }

        double rest = Math.Max(0, WeekHours.Week - onWeek);
        var hours = new WeekHours(charge, onWeek - charge, Use.PluggedInAllDay ? rest : 0, Use.PluggedInAllDay ? 0 : rest);
        return Math.Abs(hours.SumH - WeekHours.Week) < 1e-9
            ? hours
            : throw new InvalidOperationException("the hours of a week do not add up to 168");
    }

    /// <summary>What was assumed because the user said nothing, as sentences that name the key to change it.</summary>
    public IReadOnlyList<string> Assumptions()
    {
        var said = new List<string>();
        var ours = new Use();
        void Default(string key, bool unchanged, string text)
        {
            if (unchanged && !Use.Given.Contains(key))
            {
                said.Add($"{text} (our assumption; [use] {key} changes it)");
            }
        }

        Default("charges-per-week", Use.ChargesPerWeek == ours.ChargesPerWeek, "7 charges a week: a charge a day");
        Default("charge-share", Use.ChargeSharePercent == ours.ChargeSharePercent, "a usual charge gives 100 % of a full one");
        Default("hours-on-charger-per-charge", Use.HoursOnChargerPerCharge is null, "the device is taken off as soon as it is full");
        Default("plugged-in-all-day", Use.PluggedInAllDay == ours.PluggedInAllDay, "the charger stays in the socket all day");
        if (Use.ChargeSharePercent < 100)
        {
            said.Add(Prose.Of(
                $"a charge of {Use.ChargeSharePercent:0.#} % is taken to need that share of a full charge's energy and time; the last part "
                    + $"of a charge is slower and loses more, so this is an approximation"));
        }

        if (Use.Devices > 1)
        {
            said.Add(
                InvariantText.Of(
                    $"{Use.Devices} devices are charged one after another, each with the energy of the one measured; charging them at once "
                + $"was not measured"));
        }

        return said;
    }

    private static void Check(Use use)
    {
        Need(use.ChargesPerWeek is >= 0 and < 10_000, "charges-per-week", use.ChargesPerWeek, $"a number from 0 up");
        Need(use.ChargeSharePercent is > 0 and <= 100, "charge-share", use.ChargeSharePercent, $"a percentage above 0 and up to 100");
        Need(use.HoursOnChargerPerCharge is null or (>= 0 and <= 168), "hours-on-charger-per-charge", use.HoursOnChargerPerCharge
            ?? 0, $"hours from 0 to 168");
        Need(use.Devices >= 1, "devices", use.Devices, $"a whole number from 1 up");
        if (use.ChargesPerWeekRange is { } r)
        {
            Need(r.Low >= 0 && r.Low <= use.ChargesPerWeek, "charges-per-week-range", r.Low,
                $"a lower limit from 0 to charges-per-week ({use.ChargesPerWeek:0.##})");
            Need(r.High >= use.ChargesPerWeek && r.High < 10_000, "charges-per-week-range", r.High,
                $"an upper limit from charges-per-week ({use.ChargesPerWeek:0.##}) up");
        }
    }

    private static void Need(bool holds, string key, double found, InvariantText expected)
    {
        string text = expected.ToStringAndClear();
        if (!holds)
        {
            throw Unusable($"[use] {key} is {found:0.####}, expected {text}");
        }
    }

    private static T Take<T>(T? own, T common, string key, HashSet<string> given)
        where T : struct
    {
        if (own is { } value)
        {
            given.Add(key);
            return value;
        }

        return common;
    }

    private static InputException Unusable(InvariantText text) => new(InputProblem.Unusable, text.ToStringAndClear());
}

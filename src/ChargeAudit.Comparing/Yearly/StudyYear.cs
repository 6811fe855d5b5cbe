using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>Time until buying one method's charger has paid for itself against going on with another.</summary>
/// <param name="Now">Name of the method that there is.</param>
/// <param name="Bought">Name of the method that is bought.</param>
/// <param name="Price">What it costs, in the tariff's currency.</param>
/// <param name="Years">Missing where it never pays for itself, or where that cannot be told. [a]</param>
public sealed record Payback(string Now, string Bought, double Price, Figure Years);

/// <summary>Use, tariff, household, adapter and emissions of a study, checked once, and the years of its methods worked out with
/// them.</summary>
internal sealed class StudyYear
{
    private const string NoWall =
        "nothing was measured at the wall, and no adapter efficiency is given: log at the wall, or give efficiency under [adapter]";

    private readonly Study _study;

    private StudyYear(Study study, PreparedTariff? tariff, PreparedCarbon? carbon) => (_study, Tariff, Carbon) = (study, tariff, carbon);

    /// <summary>The tariff; null where there is none.</summary>
    public PreparedTariff? Tariff { get; }

    /// <summary>The emission factor; null where there is none.</summary>
    public PreparedCarbon? Carbon { get; }

    /// <summary>Checks what a study says about use and prices, and reads its files of hourly values.</summary>
    /// <param name="study">The study.</param>
    /// <exception cref="ChargeAudit.Metrology.Diagnostics.InputException">Something contradicts itself, or a file cannot be
    /// used.</exception>
    public static StudyYear Of(Study study)
    {
        foreach (var method in study.Methods)
        {
            _ = UseProfile.Of(study.Use, method.Use, method.Name);
            _ = AdapterOf(study, method);
        }

        string? zone = study.Tariff?.TimeZone;
        HourlyValues? Hourly(PriceFile? file) => file is null ? null : HourlyValues.Read(Path.Combine(study.Folder, file.File), file, zone);
        var tariff = study.Tariff is { } t ? PreparedTariff.Of(t, study.Household, Hourly(t.Hourly)) : null;
        var carbon = study.Carbon is { } c ? PreparedCarbon.Of(c, Hourly(c.Hourly)) : null;
        return new StudyYear(study, tariff, carbon);
    }

    /// <summary>A method's figures at the wall: measured where they were, derived by the adapter where they were not.</summary>
    /// <param name="method">The method.</param>
    /// <param name="points">Its figures at each measuring point.</param>
    /// <param name="fitted">An adapter fitted from other logs; serves where the study states none.</param>
    /// <returns>Null where nothing was measured at the wall and nothing can be derived.</returns>
    public PointResult? WallOf(Method method, IReadOnlyDictionary<MeasuringPoint, PointResult> points, Adapter? fitted = null)
    {
        var adapter = AdapterOf(_study, method) ?? fitted;
        var derived = adapter is not null && points.TryGetValue(MeasuringPoint.Usb, out var usb)
            ? WallEnergy.FromUsb(usb, adapter, method.Kind)
            : null;
        if (!points.TryGetValue(MeasuringPoint.Wall, out var wall))
        {
            return derived;
        }

        bool measured = wall.EnergyPerCharge.Value is not null || derived is null;
        return new PointResult(
            Either(wall.EnergyPerCharge, derived?.EnergyPerCharge),
            measured ? wall.RunEnergiesWh : derived!.RunEnergiesWh,
            measured ? wall.ChargeDurationS : derived!.ChargeDurationS,
            Either(wall.MaintenancePower, derived?.MaintenancePower),
            NoLoad(method, Either(wall.NoLoadPower, derived?.NoLoadPower)))
        {
            StandbyNotes = wall.StandbyNotes,
        };
    }

    /// <summary>A year of a method.</summary>
    /// <param name="method">The method.</param>
    /// <param name="points">Its figures at each measuring point.</param>
    /// <param name="fitted">An adapter fitted from other logs; serves where the study states none.</param>
    /// <exception cref="ChargeAudit.Metrology.Diagnostics.InputException">A week cannot hold the use.</exception>
    public YearResult YearOf(Method method, IReadOnlyDictionary<MeasuringPoint, PointResult> points, Adapter? fitted = null)
    {
        if (WallOf(method, points, fitted) is not { } wall)
        {
            var none = Figure.None(NoWall);
            return new YearResult(none, Tariff is null ? Figure.None("no price was given") : none, []);
        }

        return YearlyEnergy.Of(YearInput.From(wall, UseProfile.Of(_study.Use, method.Use, method.Name), Tariff, Carbon));
    }

    /// <summary>When each method that has a price pays for itself against each other one.</summary>
    /// <param name="years">The methods with their years.</param>
    public static IReadOnlyList<Payback> Paybacks(IReadOnlyList<(Method Method, YearResult Year)> years) =>
    [
        .. from bought in years
           where bought.Method.PurchasePrice is not null
           from now in years
           where now.Method.Name != bought.Method.Name
           let price = bought.Method.PurchasePrice!.Value
           select new Payback(now.Method.Name, bought.Method.Name, price, YearDifference.PaybackYears(now.Year, bought.Year, price)),
    ];

    private static Adapter? AdapterOf(Study study, Method method) =>
        method.Adapter is { } own ? Adapter.Of(own, method.Name) : study.Adapter is { } common ? Adapter.Of(common, "common") : null;

    private static Figure Either(Figure measured, Figure? derived) => measured.Value is null && derived?.Value is not null
        ? derived
        : measured;

    /// <summary>By cable the charger waiting is the adapter alone, so its stated no-load power serves where it was not logged.</summary>
    private Figure NoLoad(Method method, Figure found)
    {
        if (found.Value is not null || method.Kind != MethodKind.Wired)
        {
            return found;
        }

        var info = method.Adapter ?? _study.Adapter;
        return info is not null && Adapter.NoLoadOf(info, method.Adapter is null ? "common" : method.Name) is { } p0
            ? Figure.Of(p0, "an adapter power with nothing connected that was given and not measured")
            : found;
    }
}

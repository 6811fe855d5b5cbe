using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>A mains adapter between wall and usb that was not measured together with the charge.</summary>
/// <param name="Efficiency">Energy out divided by energy in over a charge. [1]</param>
/// <param name="NoLoad">Power with nothing connected; null: unknown. [W]</param>
/// <param name="Origin">Where the figures come from, to be shown beside every figure that rests on them.</param>
public sealed record Adapter(Measured Efficiency, Measured? NoLoad, string Origin)
{
    /// <summary>The same for figures at a light load, which rest on the no-load power too.</summary>
    public string LightLoadOrigin => NoLoad is { } p0
        ? Prose.Of($"{Origin}, and on an adapter power with nothing connected of {p0.Value:0.###} W likewise")
        : Origin;

    /// <summary>The adapter as its user describes it.</summary>
    /// <param name="info">What the study says.</param>
    /// <param name="name">Name that keeps the adapters of two methods apart as sources of error; methods fed by one and the same adapter
    /// share it.</param>
    /// <returns>The adapter; null where no efficiency is given.</returns>
    /// <exception cref="InputException">A number cannot be what it is said to be.</exception>
    public static Adapter? Of(AdapterInfo info, string name = "adapter")
    {
        if (info.EfficiencyPercent is not { } percent)
        {
            return null;
        }

        Need(percent is > 0 and <= 100, "efficiency", percent, "a percentage above 0 and up to 100");
        Need(info.EfficiencyWithin is null or (>= 0 and < 100), "efficiency-within", info.EfficiencyWithin
            ?? 0, "percentage points from 0 up");
        var efficiency = Within(percent / 100, info.EfficiencyWithin / 100, "1", name, "efficiency",
            "how well the adapter's efficiency is known was not given");
        var noLoad = NoLoadOf(info, name);
        return new Adapter(efficiency, noLoad,
            Prose.Of($"an adapter efficiency of {percent:0.##} % that was given and not measured"));
    }

    /// <summary>An adapter whose efficiency was fitted from other logs of the study.</summary>
    /// <param name="efficiency">Fitted efficiency. [1]</param>
    /// <param name="noLoad">Fitted no-load power; null: unknown. [W]</param>
    public static Adapter Fitted(Measured efficiency, Measured? noLoad) => new(
        efficiency, noLoad,
            Prose.Of($"an adapter efficiency of {100 * efficiency.Value:0.#} % fitted from other logs of the study"));

    /// <summary>The adapter's power with nothing connected, as its user describes it. [W]</summary>
    /// <param name="info">What the study says.</param>
    /// <param name="name">Name that keeps the adapters of two methods apart as sources of error.</param>
    /// <returns>Null where it is not given.</returns>
    /// <exception cref="InputException">A number cannot be what it is said to be.</exception>
    public static Measured? NoLoadOf(AdapterInfo info, string name = "adapter")
    {
        Need(info.NoLoadW is null or (>= 0 and < 1000), "no-load", info.NoLoadW ?? 0, "watts from 0 up");
        Need(info.NoLoadWithinW is null or (>= 0 and < 1000), "no-load-within", info.NoLoadWithinW ?? 0, "watts from 0 up");
        return info.NoLoadW is { } w
            ? Within(
                w, info.NoLoadWithinW, "W", name, "no-load", "how well the adapter's power with nothing connected is known was not given")
            : null;
    }

    private static Measured Within(double value, double? halfWidth, string unit, string name, string part, string unknown) =>
        halfWidth is { } a
        ? Measured.From(value, unit, a == 0 ? [] : [new UncertaintyComponent(OfAdapter(name, part), a / Math.Sqrt(3))])
        : Measured.Unknown(value, unit, unknown);

    private static InfluenceSource OfAdapter(string name, string part) =>
        new(part, Shared: true, Shape: ErrorShape.Rectangular) { Owner = SourceOwner.Adapter, OwnerName = name };

    private static void Need(bool holds, string key, double found, string expected)
    {
        if (!holds)
        {
            throw new InputException(InputProblem.Unusable, InvariantText.Of($"[adapter] {key} is {found:0.####}, expected {expected}"));
        }
    }
}

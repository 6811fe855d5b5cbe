using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>
/// A power factor from a column headed <c>cos φ</c>. Where it is the displacement factor, distortion of the current is left out of it: at a
/// true factor of 0.5 to 0.6, as small adapters have, a cosine of 0.95 gives 1.6 to 1.9 times the energy. No data sheet bounds that, so
/// there is no interval, and strict reading refuses the log, unless the user names the column as the power factor.
/// </summary>
internal static class CosineDoubt
{
    /// <summary>Why the energy has no interval; null where nothing is doubted.</summary>
    public static string? UnknownBecause(LogLayout layout, PowerSource source) => Header(layout, source) is { } header
        ? $"whether the column \"{header}\" is the true power factor is not known"
        : null;

    /// <summary>The doubt, or what was taken instead, as a sentence; null where there is none.</summary>
    public static string? Sentence(LogLayout layout, PowerSource source) => source == PowerSource.EnergyCounter
        && layout.DoubtedPowerFactor is { } passedOver
        ? $"The energy counter was taken, and not the column \"{passedOver.Header}\", which may be the cosine of the phase shift alone. "
            + $"{Remedy(passedOver.Header)}."
        : Header(layout, source) is { } header
        ? $"Power rests on the column \"{header}\". A cosine may be that of the phase shift alone, which leaves distortion out: with a "
            + $"small adapter the energy would then be up to 1.9 times too high. {Remedy(header)}."
        : null;

    /// <summary>Refuses the log under strict reading.</summary>
    /// <exception cref="InputException">It would rest on a cosine.</exception>
    public static void Check(string file, LogLayout layout, PowerSource source, LogOptions options)
    {
        if (options.Strict && Header(layout, source) is { } header)
        {
            throw new InputException(InputProblem.Unusable,
                $"{file}: its power rests on the column \"{header}\", which may be the cosine of the phase shift and not the true power "
                + $"factor, and under strict reading nothing is guessed. {Remedy(header)}, or log real power (W) or energy")
            {
                Remedy = Metrology.Diagnostics.Remedy.Columns,
            };
        }
    }

    private static string Remedy(string header) =>
        $"Where it is real power by apparent power, say so: power-factor = \"{header}\" among the columns of the meter";

    private static string? Header(LogLayout layout, PowerSource source) =>
        source is PowerSource.ProductWithPowerFactor or PowerSource.ApparentWithPowerFactor ? layout.DoubtedPowerFactor?.Header : null;
}

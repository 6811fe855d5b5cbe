using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.RegularExpressions;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// How well a meter keeps the phase between voltage and current, as a data sheet puts it: a phase error (<c>0.2°</c>, <c>3 mrad</c>), or
/// the accuracy of real power at a power factor below one (<c>2 % at power factor 0.5</c>). The limits are rectangular. Immutable.
/// </summary>
public sealed partial record PhaseAccuracy
{
    private const double GreatestRad = 0.5;

    private PhaseAccuracy(string text, double? statedRad, double share, double powerFactor)
    {
        Text = text;
        _statedRad = statedRad;
        _share = share;
        _powerFactor = powerFactor;
    }

    private readonly double? _statedRad;
    private readonly double _share;
    private readonly double _powerFactor;

    /// <summary>The text it was read from.</summary>
    public string Text { get; }

    /// <summary>
    /// Limit of the phase error. From an accuracy b at a power factor: what b has beyond the accuracy a at a power factor of one, in
    /// squares, is put down to the phase, √(b² − a²)/tan φ; so gain and phase together have the standard uncertainty that is stated there.
    /// [rad]
    /// </summary>
    /// <param name="power">The accuracy of power at a power factor of one; null where none is stated, then all of b is the phase's.</param>
    public double HalfWidthRad(MeterAccuracy? power)
    {
        if (_statedRad is { } rad)
        {
            return rad;
        }

        double gain = power is null ? 0 : Math.Sqrt(3) * power.StandardPerHalfWidth * power.Clauses.Min(c => c.RelativeHalfWidth);
        return Math.Sqrt(Math.Max(0, (_share * _share) - (gain * gain))) / PhaseError.Tangent(_powerFactor);
    }

    /// <summary>Reads a statement.</summary>
    /// <param name="text">The text of the data sheet.</param>
    /// <param name="accuracy">What it says, where it could be read.</param>
    /// <param name="error">What was found and what was expected, as a clause without a full stop, where it could not.</param>
    public static bool TryParse(string? text, [NotNullWhen(true)] out PhaseAccuracy? accuracy, [NotNullWhen(false)] out string? error)
    {
        string plain = (text ?? "").Replace("±", "", StringComparison.Ordinal).Trim();
        accuracy = null;
        error = null;
        if (Angle().Match(plain) is { Success: true } angle)
        {
            double rad = Number(angle, "number") * angle.Groups["unit"].Value switch
            {
                "rad" => 1,
                "crad" => 0.01,
                "mrad" => 0.001,
                _ => Math.PI / 180,
            };
            accuracy = rad <= GreatestRad ? new PhaseAccuracy(plain, rad, 0, 0) : null;
        }
        else if (ShareAt().Match(plain) is { Success: true } share)
        {
            double ratio = 0.01 * Number(share, "number"), factor = Number(share, "factor");
            accuracy = ratio < 1 && factor is > 0 and < 1 ? new PhaseAccuracy(plain, null, ratio, factor) : null;
        }

        error = accuracy is null
            ? $"the phase '{plain}' was not understood; expected a phase error such as '0.2°' or '3 mrad', or the accuracy at a power "
                + "factor "
                + "below one, such as '2 % at power factor 0.5'"
            : null;
        return accuracy is not null;
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    private static double Number(Match match, string group) => double.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(?<number>[0-9]*\.?[0-9]+)\s*(?<unit>°|deg|degrees?|mrad|crad|rad)$")]
    private static partial Regex Angle();

    [GeneratedRegex(@"^(?<number>[0-9]*\.?[0-9]+)\s*%\s+at\s+(?:a\s+)?power[\s-]factor\s+(?:of\s+)?(?<factor>[0-9]*\.?[0-9]+)$")]
    private static partial Regex ShareAt();
}

using System.Diagnostics.CodeAnalysis;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>One clause of a stated accuracy: half-widths that hold up to a reading.</summary>
/// <param name="Below">The clause holds for readings smaller than this; null: for all the rest. [coherent unit]</param>
/// <param name="RelativeHalfWidth">Share of the reading. [1]</param>
/// <param name="FixedHalfWidth">The part that does not depend on the reading. [coherent unit]</param>
/// <param name="Digits">Steps of the display, which need its resolution to become an amount. [1]</param>
public sealed record AccuracyClause(double? Below, double RelativeHalfWidth, double FixedHalfWidth, double Digits)
{
    /// <summary>The fixed part with the digits in it; null where there are digits and no resolution.</summary>
    /// <param name="resolution">Step of the display; null where not known. [coherent unit]</param>
    public double? FixedPart(double? resolution) => Digits == 0 ? FixedHalfWidth : resolution is { } step
        ? FixedHalfWidth + (Digits * step)
        : null;
}

/// <summary>
/// How well a meter measures one quantity, as its data sheet puts it: <c>0.05 % + 2 mV</c>, <c>1 % of reading + 3 digits</c>, <c>0.5 % of 3
/// A</c>,
/// <c>2 % below 1 W else 1 %</c>, <c>50 ppm</c>; after that, if wished, <c>rectangular</c> (the default), <c>triangular</c>, <c>arcsine</c>
/// or <c>normal k=2</c>,
/// and <c>resolution 1 mV</c>. The share of the reading is one error of gain and the fixed part one error of offset; the two are taken as
/// independent.
/// Immutable. <i>Source:</i> JCGM 100:2008, 4.3.7 to 4.3.9 (rectangular and triangular limits) and 4.3.3 (a stated multiple k of the
/// standard uncertainty), JCGM 101:2008, 6.4.6 (arcsine); JCGM 100:2008, F.2.3.2 (manufacturers' limits).
/// </summary>
public sealed record MeterAccuracy
{
    /// <summary>The text it was read from.</summary>
    public required string Text { get; init; }

    /// <summary>What it is about.</summary>
    public required LogQuantity Quantity { get; init; }

    /// <summary>Clauses from the smallest readings up; the last holds for all the rest.</summary>
    public required IReadOnlyList<AccuracyClause> Clauses { get; init; }

    /// <summary>Distribution of the error between the limits.</summary>
    public ErrorShape Shape { get; init; } = ErrorShape.Rectangular;

    /// <summary>Coverage factor of the limits where <see cref="Shape"/> is normal. [1]</summary>
    public double CoverageFactor { get; init; } = 2;

    /// <summary>Step of the display, where the text states it: the size of a digit. Null where not. [coherent unit]</summary>
    public double? Resolution { get; init; }

    /// <summary>
    /// How far the error itself may move between two audits, months apart, in the same form; null: it is taken to stay. Never more than the
    /// accuracy, within which the error lies at any time.
    /// </summary>
    public MeterAccuracy? Stability { get; init; }

    /// <summary>Reads a stated accuracy.</summary>
    /// <param name="text">The text of the data sheet.</param>
    /// <param name="quantity">What it is about.</param>
    /// <param name="accuracy">The accuracy, where the text could be read.</param>
    /// <param name="error">What was found and what was expected, as a clause without a full stop, where it could not.</param>
    public static bool TryParse(
        string? text, LogQuantity quantity, [NotNullWhen(true)] out MeterAccuracy? accuracy, [NotNullWhen(false)] out string? error) =>
        AccuracyText.TryParse(text, quantity, out accuracy, out error);

    /// <summary>Reads a stated accuracy that is written in code.</summary>
    /// <param name="text">The text of the data sheet.</param>
    /// <param name="quantity">What it is about.</param>
    /// <exception cref="FormatException">It is not an accuracy of that quantity.</exception>
    public static MeterAccuracy Parse(string text, LogQuantity quantity) =>
        TryParse(text, quantity, out var accuracy, out string? error) ? accuracy : throw new FormatException(error);

    /// <summary>The clause that holds for a reading.</summary>
    /// <param name="reading">The reading; its sign does not count. [coherent unit]</param>
    public AccuracyClause ClauseAt(double reading) => Clauses.First(c => c.Below is not { } limit || Math.Abs(reading) < limit);

    /// <summary>Half-width of the whole at one reading; null where digits are stated and the step of the display is not known.</summary>
    /// <param name="reading">The reading. [coherent unit]</param>
    /// <param name="resolution">Step of the display; null: <see cref="Resolution"/>. [coherent unit]</param>
    public double? HalfWidthAt(double reading, double? resolution = null)
    {
        var clause = ClauseAt(reading);
        return clause.FixedPart(Resolution ?? resolution) is { } part ? (clause.RelativeHalfWidth * Math.Abs(reading)) + part : null;
    }

    /// <summary>Standard uncertainty by half-width: 1/√3 for rectangular, 1/√6 for triangular, 1/√2 for arcsine, 1/k for normal limits.
    /// [1]</summary>
    public double StandardPerHalfWidth => Shape switch
    {
        ErrorShape.Rectangular => 1 / Math.Sqrt(3),
        ErrorShape.Triangular => 1 / Math.Sqrt(6),
        ErrorShape.Arcsine => 1 / Math.Sqrt(2),
        _ => 1 / CoverageFactor,
    };

    /// <inheritdoc/>
    public override string ToString() => Text;
}

namespace ChargeAudit.Reports.Charts;

/// <summary>The ground that a chart lies on.</summary>
public enum ChartTheme
{
    /// <summary>Dark on light.</summary>
    Light,

    /// <summary>Light on dark.</summary>
    Dark,
}

/// <summary>
/// How a chart that is drawn for a file of its own is to look. The usual look is the report's; a drawing takes the look that is in use
/// while it is made, and each flow of work has its own.
/// </summary>
public sealed record ChartLook
{
    /// <summary>Narrowest and widest chart that stays readable. [px]</summary>
    public const int LeastWidthPx = 240, GreatestWidthPx = 4000;

    /// <summary>Least and greatest number of picture points for a pixel of the drawing.</summary>
    public const double LeastScale = 0.5, GreatestScale = 8;

    private static readonly AsyncLocal<ChartLook?> InUse = new();

    /// <summary>Width; null: the report's. [px]</summary>
    public int? WidthPx { get; init; }

    /// <summary>Picture points for a pixel of the drawing, in PNG files; text grows with it. [1]</summary>
    public double Scale { get; init; } = 1;

    /// <summary>The ground that it lies on.</summary>
    public ChartTheme Theme { get; init; }

    /// <summary>The look in use.</summary>
    internal static ChartLook Current => InUse.Value ?? new ChartLook();

    /// <summary>Draws with this look until what is returned is disposed.</summary>
    internal IDisposable Use()
    {
        var before = InUse.Value;
        InUse.Value = this;
        return new Restored(before);
    }

    private sealed class Restored(ChartLook? before) : IDisposable
    {
        public void Dispose() => InUse.Value = before;
    }
}

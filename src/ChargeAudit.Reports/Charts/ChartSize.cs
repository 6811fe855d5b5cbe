namespace ChargeAudit.Reports.Charts;

/// <summary>The room a chart is drawn for. Text keeps its size, so a narrow screen gets its own drawing and not a shrunken one.</summary>
/// <param name="WidthPx">Width. [px]</param>
/// <param name="HeightPx">Height. [px]</param>
/// <param name="FontPx">Size of text. [px]</param>
/// <param name="LabelCharacters">Longest label before it is cut.</param>
/// <param name="Points">About how many points a curve gets.</param>
internal sealed record ChartSize(int WidthPx, int HeightPx, float FontPx, int LabelCharacters, int Points)
{
    /// <summary>For desks, paper and files.</summary>
    public static ChartSize Wide { get; } = new(860, 400, 13, 26, 420);

    /// <summary>For phones held upright.</summary>
    public static ChartSize Narrow { get; } = new(340, 320, 11, 13, 200);

    /// <summary>The same with another height. [px]</summary>
    public ChartSize High(int heightPx) => this with { HeightPx = heightPx };
}

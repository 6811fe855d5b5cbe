using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Reports.Text;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>The charts of a pool.</summary>
public static class PoolCharts
{
    internal const string Forest = "pool-forest";
    internal const string Table = "pool-table";
    internal const string Ranking = "pool-ranking";

    private const int CellPx = 30;

    /// <summary>The charts that there is something to draw for.</summary>
    /// <param name="pool">The pool.</param>
    public static IReadOnlyList<Chart> Of(PoolResult pool)
    {
        ArgumentNullException.ThrowIfNull(pool);
        using var direct = WrittenForm.UseDirectly();
        return [.. new[] { OfDevices(pool.Main), OfTable(pool), OfRanking(pool) }.OfType<Chart>()];
    }

    private static Chart? OfDevices(PooledFigure? figure)
    {
        if (figure is null)
        {
            return null;
        }

        double greatest = figure.Devices.Max(d => d.Weight ?? 0);
        var rows = figure.Devices.Select(d => new IntervalRow(
            d.Name, Text(d.Own.Value, d.Weight), d.Own.Value, d.Own.Low ?? d.Own.Value, d.Own.High ?? d.Own.Value)
        { Size = greatest > 0 ? d.Weight!.Value / greatest : 0.5 }).ToList();
        if (figure.Answer is { } answer)
        {
            rows.Add(Sum("mean", answer.Mean, true));
            rows.Add(Sum("another one", answer.AnotherDevice, false));
            rows.Add(Sum("next audit", answer.NextMeasurement, false));
        }

        return PlotFrame.Render(
            Forest,
            "Overhead ratio of each device, and of all together",
            "Overhead ratio with 95 % interval. " + string.Join(" ", figure.Devices.Select(d => $"{d.Name}: {PoolText.Of(d.Own)}."))
                + (figure.Answer is { } a
                ? $" Mean: {PoolText.Of(a.Mean)}. Another device: {PoolText.Range(a.AnotherDevice)}. Next audit of another device: "
                    + $"{PoolText.Range(a.NextMeasurement)}." : ""),
            IntervalRows.Fit(ChartSize.Wide, rows.Count),
            IntervalRows.Fit(ChartSize.Narrow, rows.Count),
            size => IntervalRows.Plot(size, rows, "overhead ratio", 1),
            "Squares: devices, the larger the greater their weight in the mean (per cent at the right); lines: 95 % interval of their own "
                + "audits. Diamond: the mean. Bars below it: where another device's true ratio lies, and what its audit would find.");
    }

    private static IntervalRow Sum(string name, PooledValue value, bool point) => new(
        name, point ? FigureText.Plain(value.Value, "") : "", point ? value.Value : null, value.Low ?? value.Value, value.High
            ?? value.Value)
    { IsSum = true, Size = 1 };

    private static string Text(double value, double? weight) => weight is { } w
        ? Prose.Of($"{FigureText.Plain(value, "")} · {100 * w:0} %")
        : FigureText.Plain(value, "");

    private static Chart? OfRanking(PoolResult pool)
    {
        if (pool.Ranking is not { } ranking)
        {
            return null;
        }

        var rows = ranking.Chargers.Select(c => new IntervalRow(
            c.Name, Prose.Of($"{FigureText.Plain(c.Ratio.Value, "")} · {100 * c.Best:0} %"), c.Ratio.Value, c.Ratio.Low
                ?? c.Ratio.Value, c.Ratio.High ?? c.Ratio.Value)).ToList();
        return PlotFrame.Render(
            Ranking,
            "Chargers by their overhead ratio with the mean device",
            "Chargers, the one that uses least energy first. " + string.Join(" ", ranking.Chargers.Select(c => Prose.Of(
                $"{c.Name}: {PoolText.Of(c.Ratio)}; uses least of all with a probability of {100 * c.Best:0} %, among the first three "
                    + $"with {100 * c.FirstThree:0} %."))),
            IntervalRows.Fit(ChartSize.Wide, rows.Count),
            IntervalRows.Fit(ChartSize.Narrow, rows.Count),
            size => IntervalRows.Plot(size, rows, "overhead ratio", null),
            "At the right: the ratio, and the probability that the charger uses least of all. The intervals hold what differs between "
                + "devices too, so chargers whose intervals overlap may well be told apart: see the pairs.");
    }

    private static Chart? OfTable(PoolResult pool)
    {
        if (pool.Ranking is not { } ranking)
        {
            return null;
        }

        string[] chargers = [.. ranking.Chargers.Select(c => c.Name)],
            devices = [.. ranking.Devices.OrderBy(d => d.Factor).Select(d => d.Name)];
        string Told(string device, string charger) =>
            $"{charger} {(Cell(ranking, device, charger) is { } cell ? FigureText.Plain(cell.Ratio.Value, "") : "not measured")}";
        return PlotFrame.Render(
            Table,
            "Overhead ratio of each device on each charger",
            $"Overhead ratios. {string.Join(" ", devices.Select(d => $"{d}: {string.Join(", ", chargers.Select(c => Told(d, c)))}."))}",
            ChartSize.Wide.High(70 + (CellPx * devices.Length)),
            ChartSize.Narrow.High(70 + (CellPx * devices.Length)),
            size => TablePlot(size, ranking, devices, chargers),
            "Pale is better. Chargers from left to right and devices from top to bottom in the order of what they use. A dash: not "
                + "measured.");
    }

    private static Plot TablePlot(ChartSize size, ChargerRanking ranking, string[] devices, string[] chargers)
    {
        var plot = PlotFrame.New(size);
        NumericManual rows = new(), columns = new();
        double least = ranking.Cells.Min(c => c.Ratio.Value), span = Math.Max(ranking.Cells.Max(c => c.Ratio.Value) - least, 1e-9);
        var colors = new MapColors(lowIsGood: true);
        var narrow = size with
        {
            LabelCharacters =
                Math.Max(3, (int)((size.WidthPx - (size.LabelCharacters * size.FontPx * 0.6)) / chargers.Length / (size.FontPx * 0.68))),
        };
        for (int j = 0; j < chargers.Length; j++)
        {
            columns.AddMajor(j, IntervalRows.Label(chargers[j], narrow.LabelCharacters));
            for (int i = 0; i < devices.Length; i++)
            {
                var cell = Cell(ranking, devices[i], chargers[j]);
                var fill = cell is null ? Palette.Card : colors.GetColor((cell.Ratio.Value - least) / span);
                var box = plot.Add.Rectangle(new CoordinateRect(j - 0.48, j + 0.48, -i - 0.46, -i + 0.46));
                box.FillColor = fill;
                box.LineColor = Palette.Grid;
                box.LineWidth = 1;
                var text = plot.Add.Text(cell is null ? "–" : FigureText.Plain(cell.Ratio.Value, "", 3), j, -i);
                text.LabelFontName = ChartFont.Family;
                text.LabelFontSize = size.FontPx;
                text.LabelFontColor = cell is null ? Palette.Ink : Palette.TextOnOpaque(fill);
                text.LabelAlignment = Alignment.MiddleCenter;
                text.OffsetY = 1;
            }
        }

        for (int i = 0; i < devices.Length; i++)
        {
            rows.AddMajor(-i, IntervalRows.Label(devices[i], size.LabelCharacters));
        }

        plot.Axes.SetLimits(-0.5, chargers.Length - 0.5, -devices.Length + 0.5, 0.5);
        plot.Axes.Left.TickGenerator = rows;
        plot.Axes.Bottom.TickGenerator = columns;
        plot.Axes.Left.MajorTickStyle.Length = plot.Axes.Bottom.MajorTickStyle.Length = 0;
        plot.Grid.IsVisible = false;
        return plot;
    }

    private static TableCell? Cell(ChargerRanking ranking, string device, string charger) =>
        ranking.Cells.FirstOrDefault(c => c.Device == device && c.Charger == charger);
}

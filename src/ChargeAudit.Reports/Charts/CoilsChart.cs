using System.Globalization;
using ChargeAudit.Coils;
using ChargeAudit.Metrology;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// What two coupled coils with capacitors in series do over frequency: the power in the load and the phase of the input, for the given
/// coupling and a few others, so that the splitting of the peak shows.
/// </summary>
public static class CoilsChart
{
    /// <summary>Couplings nearer to each other than this would draw one line twice. [1]</summary>
    private const double LeastRatio = 1.25;

    /// <summary>No pair of flat coils is coupled more tightly than this. [1]</summary>
    private const double TightestCoupling = 0.9;

    private const double LoosestCoupling = 0.005;
    private const double CouplingStep = 1.02;
    private const int MostCurves = 4;
    private const double LeastDecades = 2;
    private const double MostDecades = 4;

    /// <summary>The chart; null where too little is known for a link.</summary>
    /// <param name="report">What is known about the coils.</param>
    public static Chart? Draw(CoilReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        using var direct = WrittenForm.UseDirectly();
        if (report.Sweep is not { } sweep)
        {
            return null;
        }

        var curves = Curves(sweep);
        string couplings = string.Join(", ", curves.Select(c => Label(c.Coupling)));
        return PanelFrame.Render(
            "coils",
            $"Two coils over frequency, load {SiValue.Format(sweep.LoadOhm, "Ω", 3)}",
            $"Power in the load and phase of the input over frequency, at the coupling {couplings}. "
                + $"At the given {Label(sweep.Circuit.Link.Coupling)} the power peaks at "
                    + $"{string.Join(" and ", sweep.PeaksHz.Select(f => SiValue.Format(f, "Hz")))}.",
            ChartSize.Wide.High(270),
            ChartSize.Narrow.High(240),
            size => [PowerPanel(curves, size), PhasePanel(curves, size)],
            "Strong line: the coupling that was given. Above: power in the load for one volt (effective) at the input. Below: phase of the "
                + "input; above zero the current lags.");
    }

    /// <summary>The loosest coupling at which the peak is split for this load and these capacitors; null where no pair of coils reaches it.
    /// [1]</summary>
    internal static double? SplitFrom(FrequencySweep given)
    {
        for (double k = LoosestCoupling; k <= TightestCoupling; k *= CouplingStep)
        {
            if (At(given, k).IsSplit)
            {
                return k;
            }
        }

        return null;
    }

    private static FrequencySweep At(FrequencySweep given, double coupling) => FrequencySweep.Over(
        CompensatedLink.SeriesSeries(given.Circuit.Link with { Coupling = coupling }, given.Circuit.PrimaryF, given.Circuit.SecondaryF),
        given.LoadOhm, given.Points[0].FrequencyHz, given.Points[^1].FrequencyHz, given.Points.Count);

    private static List<Curve> Curves(FrequencySweep given)
    {
        double own = given.Circuit.Link.Coupling;
        double? split = SplitFrom(given);
        var couplings = new List<double> { own };
        foreach (double? other in (ReadOnlySpan<double?>)[split, split * 1.5, split / 3, own / 2, own / 4, own * 2])
        {
            if (other is { } k && couplings.Count < MostCurves && k <= TightestCoupling
                && couplings.TrueForAll(c => Math.Max(c / k, k / c) >= LeastRatio))
            {
                couplings.Add(k);
            }
        }

        return [.. couplings.Order().Select((k, i) => new Curve(k, k == own, k == split, Palette.Of(i), k == own ? given : At(given, k)))];
    }

    private static Plot PowerPanel(List<Curve> curves, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        Lines(plot, curves, p => Math.Log10(p.LoadPower));

        // Far from resonance the power falls without end; the chart shows the upper decades, and all of the given curve's peaks.
        double top = curves.Max(c => c.Sweep.Points.Max(p => Math.Log10(p.LoadPower)));
        double bottom =
            Math.Clamp(curves.Min(c => c.Sweep.Points.Min(p => Math.Log10(p.LoadPower))), top - MostDecades, top - LeastDecades);
        var ticks = new NumericManual();
        for (int decade = (int)Math.Ceiling(bottom); decade <= top + 0.1; decade++)
        {
            ticks.AddMajor(decade, SiValue.Format(Math.Pow(10, decade), "W", 1));
        }

        Frame(plot, curves, size, bottom, top + 0.15, ticks);
        plot.Axes.Left.Label.Text = "load power at 1 V";
        plot.Axes.Bottom.TickLabelStyle.IsVisible = false;
        PlotFrame.Legend(plot, size with { LabelCharacters = 40 },
            curves.Select(c => (Label(c.Coupling) + (c.IsGiven ? " (given)" : c.IsBorder ? " (splits from here)" : ""), c.Color)));
        return plot;
    }

    private static Plot PhasePanel(List<Curve> curves, ChartSize size)
    {
        var plot = PlotFrame.New(size);
        var zero = plot.Add.HorizontalLine(0, 1, Palette.Ink);
        zero.LineWidth = 1;
        Lines(plot, curves, p => p.InputPhaseDegrees);
        var ticks = new NumericManual();
        foreach (int degrees in (ReadOnlySpan<int>)[-90, -45, 0, 45, 90])
        {
            ticks.AddMajor(degrees, degrees.ToString(CultureInfo.InvariantCulture));
        }

        Frame(plot, curves, size, -95, 95, ticks);
        plot.Axes.Left.Label.Text = "input phase [°]";
        plot.Axes.Bottom.Label.Text = "frequency [kHz]";
        return plot;
    }

    private static void Lines(Plot plot, List<Curve> curves, Func<SweepPoint, double> value)
    {
        // The given curve last, so that it lies on top.
        foreach (var curve in curves.OrderBy(c => c.IsGiven))
        {
            var line = plot.Add.ScatterLine(
                curve.Sweep.Points.Select(p => p.FrequencyHz / 1000).ToArray(), curve.Sweep.Points.Select(value).ToArray(), curve.Color);
            line.LineWidth = curve.IsGiven ? 2.6f : 1.3f;
        }
    }

    private static void Frame(Plot plot, List<Curve> curves, ChartSize size, double bottom, double top, NumericManual left)
    {
        var points = curves[0].Sweep.Points;
        (double from, double to) = (points[0].FrequencyHz / 1000, points[^1].FrequencyHz / 1000);
        plot.Axes.SetLimits(from, to, bottom, top);
        plot.Axes.Left.TickGenerator = left;
        plot.Axes.Bottom.TickGenerator = PlotFrame.RoundTicks(from, to, size.WidthPx > 500 ? 9 : 4);
    }

    private static string Label(double coupling) =>
        "k = " + WrittenMarks.Number(coupling.ToString(coupling < 0.1 ? "F3" : "F2", CultureInfo.InvariantCulture));

    private sealed record Curve(double Coupling, bool IsGiven, bool IsBorder, Color Color, FrequencySweep Sweep);
}

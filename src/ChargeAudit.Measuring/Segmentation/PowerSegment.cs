namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A stretch between two change points.</summary>
/// <param name="From">Its first cell.</param>
/// <param name="To">The cell after its last.</param>
/// <param name="StartS">Start. [s]</param>
/// <param name="EndS">End. [s]</param>
/// <param name="MeanW">Mean. [W]</param>
/// <param name="FirstW">Line's value at the start. [W]</param>
/// <param name="LastW">Line's value at the end. [W]</param>
/// <param name="SdW">Scatter about the line. [W]</param>
internal readonly record struct PowerSegment(
    int From, int To, double StartS, double EndS, double MeanW, double FirstW, double LastW, double SdW)
{
    public double DurationS => EndS - StartS;

    /// <summary>How far the line falls from start to end; negative where it rises. [W]</summary>
    public double DropW => FirstW - LastW;

    /// <summary>Standard error of <see cref="DropW"/>, from the scatter about the line. [W]</summary>
    public double DropErrorW => To - From > 2 ? SdW * Math.Sqrt(12.0 / (To - From - 2)) : double.PositiveInfinity;

    public static IReadOnlyList<PowerSegment> Of(PowerSeries series, SegmentCost cost, List<int> starts)
    {
        var segments = new List<PowerSegment>(starts.Count);
        for (int i = 0; i < starts.Count; i++)
        {
            segments.Add(Between(series, cost, starts[i], i + 1 < starts.Count ? starts[i + 1] : series.Count));
        }

        AbsorbSteps(series, cost, segments);
        return segments;
    }

    /// <summary>One line through several stretches in order, what lies between them left out; the scatter about it holds their own and
    /// their bends.</summary>
    public static PowerSegment Pooled(IEnumerable<PowerSegment> stretches)
    {
        var all = stretches.ToList();
        double count = all.Sum(s => (double)(s.To - s.From));
        double middle = all.Sum(s => (s.To - s.From) * 0.5 * (s.From + s.To)) / count;
        double mean = all.Sum(s => (s.To - s.From) * s.MeanW) / count;
        double spread = 0;
        double cross = 0;
        double square = 0;
        foreach (var s in all)
        {
            double n = s.To - s.From;
            double slope = (s.LastW - s.FirstW) / n;
            double within = n * ((n * n) - 1) / 12;
            double away = (0.5 * (s.From + s.To)) - middle;
            spread += (n * away * away) + within;
            cross += (n * away * (s.MeanW - mean)) + (slope * within);
            square += (n * (s.MeanW - mean) * (s.MeanW - mean)) + (slope * slope * within) + (n * s.SdW * s.SdW);
        }

        double fall = spread > 0 ? cross / spread : 0;
        double residual = Math.Sqrt(Math.Max(0, square - (fall * cross)) / count);
        int from = all[0].From;
        int to = all[^1].To;
        return new PowerSegment(
            from, to, all[0].StartS, all[^1].EndS, mean, mean + (fall * (from - middle)), mean + (fall * (to - middle)), residual);
    }

    private static PowerSegment Between(PowerSeries series, SegmentCost cost, int from, int to)
    {
        var fit = cost.Fit(from, to);
        return new PowerSegment(from, to, series.StartS[from], series.EndS(to - 1), fit.MeanW, fit.StartW, fit.EndW,
            Math.Sqrt(fit.VarianceW2));
    }

    /// <summary>A step that falls inside a cell shows as a steep stretch of the least length between two levels; it is not a stretch of its
    /// own.</summary>
    private static void AbsorbSteps(PowerSeries series, SegmentCost cost, List<PowerSegment> segments)
    {
        // Two intervals between readings, seen in cells that are narrower than an interval.
        int longest = Math.Max(ChangePoints.LeastCells, (int)Math.Ceiling(2.5 / series.ReadingsPerCell));
        for (int i = 1; i < segments.Count - 1; i++)
        {
            var (left, step, right) = (segments[i - 1], segments[i], segments[i + 1]);
            bool between = step.MeanW > Math.Min(left.LastW, right.FirstW) && step.MeanW < Math.Max(left.LastW, right.FirstW);
            if (step.To - step.From > longest || !between)
            {
                continue;
            }

            int split = Enumerable.Range(step.From, step.To - step.From + 1).MinBy(k => cost.Of(left.From, k) + cost.Of(k, right.To));

            // The lines stay those of the clean cells: the step's own cells would only bend them.
            segments[i - 1] = left with { To = split, EndS = series.EndS(split - 1) };
            segments[i] = right with { From = split, StartS = series.StartS[split] };
            segments.RemoveAt(i + 1);
        }
    }
}

namespace ChargeAudit.Analysis.Segmentation;

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
        var segments = new PowerSegment[starts.Count];
        for (int i = 0; i < segments.Length; i++)
        {
            int from = starts[i];
            int to = i + 1 < starts.Count ? starts[i + 1] : series.Count;
            var fit = cost.Fit(from, to);
            segments[i] = new PowerSegment(
                from, to, series.StartS[from], series.EndS(to - 1), fit.MeanW, fit.StartW, fit.EndW, Math.Sqrt(fit.VarianceW2));
        }

        return segments;
    }
}

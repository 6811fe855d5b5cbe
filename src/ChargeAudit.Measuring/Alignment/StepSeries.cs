using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Alignment;

/// <summary>Power on an even grid, and its lasting steps. Times count from the log's first sample.</summary>
internal sealed class StepSeries
{
    private StepSeries(double originS, double gridS, double[] powerW, double[] steps, double intervalS)
    {
        OriginS = originS;
        GridS = gridS;
        PowerW = powerW;
        Steps = steps;
        IntervalS = intervalS;
    }

    public double OriginS { get; }

    public double GridS { get; }

    public double[] PowerW { get; }

    /// <summary>Mean after less mean before each grid point: pulses shorter than the window nearly vanish. [W]</summary>
    public double[] Steps { get; }

    /// <summary>Usual time between readings. [s]</summary>
    public double IntervalS { get; }

    public static StepSeries Of(PowerEnvelope envelope, double gridS, int window)
    {
        double origin = envelope.OriginS;
        int n = Math.Max(1, (int)Math.Ceiling((envelope.StartS(envelope.Count) - origin) / gridS));
        var power = new double[n];
        long readings = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            readings += envelope[i].Readings;
        }

        double last = 0;
        int perCell = (int)Math.Round(gridS / envelope.BucketWidthS);
        for (int i = 0; i < n; i++)
        {
            var cell = EnvelopeBucket.Empty;
            for (int k = i * perCell; k < Math.Min(envelope.Count, (i + 1) * perCell); k++)
            {
                cell = EnvelopeBucket.Join(cell, envelope[k]);
            }

            last = power[i] = double.IsNaN(cell.MeanPowerW) ? last : cell.MeanPowerW;
        }

        var sums = new double[n + 1];
        for (int i = 0; i < n; i++)
        {
            sums[i + 1] = sums[i] + power[i];
        }

        var steps = new double[n];
        for (int i = window; i + window <= n; i++)
        {
            steps[i] = (sums[i + window] - (2 * sums[i]) + sums[i - window]) / window;
        }

        double interval = readings > 1 ? Math.Max(gridS, (envelope.StartS(envelope.Count) - origin) / readings) : gridS;
        return new StepSeries(origin, gridS, power, steps, interval);
    }

    /// <summary>Power at a time, straight lines between the middles of cells. [W]</summary>
    public double At(double timeS)
    {
        double x = ((timeS - OriginS) / GridS) - 0.5;
        int i = Math.Clamp((int)Math.Floor(x), 0, Math.Max(0, PowerW.Length - 2));
        double share = Math.Clamp(x - i, 0, 1);
        return PowerW.Length == 1 ? PowerW[0] : PowerW[i] + (share * (PowerW[i + 1] - PowerW[i]));
    }

    public bool Covers(double timeS) => timeS >= OriginS && timeS <= OriginS + (PowerW.Length * GridS);
}

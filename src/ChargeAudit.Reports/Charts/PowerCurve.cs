using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// A log's power between two times, joined to few enough points to draw. The least and greatest reading of every piece are kept, so a
/// spike of one sample in a million is still there.
/// </summary>
/// <param name="TimesS">Middle of each piece, from the moment that counts as zero. [s]</param>
/// <param name="LeastW">Least reading; the mean where a piece holds none. [W]</param>
/// <param name="MeanW">Mean over the covered time. [W]</param>
/// <param name="GreatestW">Greatest reading; the mean where a piece holds none. [W]</param>
internal sealed record PowerCurve(double[] TimesS, double[] LeastW, double[] MeanW, double[] GreatestW)
{
    /// <summary>The stretches without a hole in them: where nothing was measured, no line is drawn.</summary>
    /// <param name="envelope">Power of the log.</param>
    /// <param name="zeroS">What counts as zero, in the log's time. [s]</param>
    /// <param name="fromS">Start, in the log's time. [s]</param>
    /// <param name="toS">End, in the log's time. [s]</param>
    /// <param name="points">About how many pieces.</param>
    public static IReadOnlyList<PowerCurve> Of(PowerEnvelope envelope, double zeroS, double fromS, double toS, int points)
    {
        var curves = new List<PowerCurve>();
        var pieces = new List<(double TimeS, EnvelopeBucket Cell)>();
        int first = Math.Clamp((int)Math.Floor((fromS - envelope.OriginS) / envelope.BucketWidthS), 0, envelope.Count);
        int last = Math.Clamp((int)Math.Ceiling((toS - envelope.OriginS) / envelope.BucketWidthS), 0, envelope.Count);
        int group = Math.Max(1, (last - first + points - 1) / points);
        for (int i = first; i < last; i += group)
        {
            var cell = EnvelopeBucket.Empty;
            int end = Math.Min(i + group, last);
            for (int j = i; j < end; j++)
            {
                cell = EnvelopeBucket.Join(cell, envelope[j]);
            }

            if (cell.CoveredS.Value > 0)
            {
                pieces.Add((0.5 * (envelope.StartS(i) + envelope.StartS(end)) - zeroS, cell));
            }
            else if (pieces.Count > 0)
            {
                curves.Add(From(pieces));
                pieces.Clear();
            }
        }

        if (pieces.Count > 0)
        {
            curves.Add(From(pieces));
        }

        return curves;
    }

    private static PowerCurve From(List<(double TimeS, EnvelopeBucket Cell)> pieces) => new(
        [.. pieces.Select(p => p.TimeS)],
        [.. pieces.Select(p => p.Cell.Readings > 0 ? p.Cell.MinPowerW : p.Cell.MeanPowerW)],
        [.. pieces.Select(p => p.Cell.MeanPowerW)],
        [.. pieces.Select(p => p.Cell.Readings > 0 ? p.Cell.MaxPowerW : p.Cell.MeanPowerW)]);
}

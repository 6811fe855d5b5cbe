using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring;

/// <summary>
/// The readings of a stretch as the envelope still knows them: a cell that holds one reading gives it as it was, a cell that holds several
/// their mean. Bridged gaps part them.
/// </summary>
/// <param name="Runs">Readings that follow one another. [W]</param>
/// <param name="Count">How many in all.</param>
/// <param name="SpacingS">Time that each stands for. [s]</param>
internal sealed record ReadingSeries(IReadOnlyList<List<double>> Runs, int Count, double SpacingS)
{
    /// <summary>The readings in the cells that lie in a stretch as a whole.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static ReadingSeries Of(PowerEnvelope envelope, double fromS, double toS)
    {
        var run = new List<double>((int)Math.Clamp((toS - fromS) / envelope.BucketWidthS, 0, envelope.Count));
        var runs = new List<List<double>> { run };
        int count = 0;
        double covered = 0;
        int first = Math.Max(0, envelope.IndexAt(Math.Max(fromS, envelope.OriginS)) - 1);
        int end = Math.Min(envelope.Count, envelope.IndexAt(Math.Min(toS, envelope.StartS(envelope.Count))) + 2);
        for (int i = first; i < end; i++)
        {
            if (envelope.StartS(i) < fromS || envelope.StartS(i + 1) > toS)
            {
                continue;
            }

            ref readonly var cell = ref envelope[i];
            if (cell.BridgedS.Value > 0)
            {
                if (run.Count > 0)
                {
                    runs.Add(run = []);
                }

                continue;
            }

            covered += cell.CoveredS.Value;
            if (cell.Readings > 0 && cell.CoveredS.Value > 0)
            {
                run.Add(cell.Readings == 1 ? cell.MinPowerW : cell.MeanPowerW);
                count++;
            }
        }

        return new ReadingSeries(runs, count, count > 0 ? covered / count : 0);
    }
}

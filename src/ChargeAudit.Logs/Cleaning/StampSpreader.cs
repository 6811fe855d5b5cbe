using System.Globalization;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Cleaning;

/// <summary>
/// Spreads the rows of one coarse stamp evenly over its step. The first stamp of a log is usually cut: its rows are put at the end of the
/// step.
/// </summary>
internal sealed class StampSpreader(TimePlan plan)
{
    // Bounds memory where a clock stands still.
    private const int MostRowsPerStamp = 65_536;

    private readonly double stepS = plan.StampStepS;
    private readonly double rowS = plan.StampStepS / plan.RowsPerStamp;
    private Sample[] rows = new Sample[256];
    private int count;
    private double originS;
    private bool first = true;
    private long spread;
    private long firstLine;
    private long lastLine;

    /// <summary>Takes a sample in rising time; passes on those of the stamp before when a new stamp begins.</summary>
    public void Add<TSink>(in Sample sample, ref TSink sink, FaultCounts tally)
        where TSink : struct, ISampleSink
    {
        if (count > 0 && (sample.TimeS > rows[0].TimeS || sample.AfterClockStep))
        {
            Flush(sample.TimeS, ref sink);
        }

        if (count == rows.Length)
        {
            if (count == MostRowsPerStamp)
            {
                throw LogErrors.StuckClock(tally.Path, sample.Line, MostRowsPerStamp);
            }

            Array.Resize(ref rows, count * 2);
        }

        if (count > 0)
        {
            spread++;
            firstLine = firstLine == 0 ? sample.Line : firstLine;
            lastLine = sample.Line;
        }

        rows[count++] = sample;
    }

    /// <summary>Passes on the last stamp's rows and counts what was spread.</summary>
    public void Finish<TSink>(ref TSink sink, FaultCounts tally)
        where TSink : struct, ISampleSink
    {
        if (count > 0)
        {
            Flush(double.PositiveInfinity, ref sink);
        }

        if (spread > 0)
        {
            string step = stepS.ToString("0.###", CultureInfo.InvariantCulture);
            tally.AddMany(FaultKind.TimeDuplicate, firstLine, lastLine, spread,
                $"Several rows carry one time stamp, as stamps go by {step} s; they were spread evenly over that time.");
        }
    }

    private void Flush<TSink>(double nextS, ref TSink sink)
        where TSink : struct, ISampleSink
    {
        double stampS = rows[0].TimeS;
        double spanS = Math.Min(stepS, nextS - stampS);
        double eachS = spanS / count;
        double startS = stampS;
        if (first && count * rowS < spanS)
        {
            eachS = rowS;
            originS = spanS - (count * rowS);
            startS = stampS + originS;
        }
        else if (double.IsPositiveInfinity(nextS))
        {
            eachS = Math.Min(eachS, rowS);
        }

        first = false;
        for (int i = 0; i < count; i++)
        {
            rows[i] = rows[i] with { TimeS = startS + (i * eachS) - originS };
            sink.Add(in rows[i]);
        }

        count = 0;
    }
}

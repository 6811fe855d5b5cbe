using System.Runtime.ExceptionServices;

namespace ChargeAudit.Metrology;

/// <summary>Work on each of several things on as many threads as there are cores, begun in their order.</summary>
internal static class SideBySide
{
    /// <summary>Does the work. Whoever asked meets what one after the other would have met: the results in their order, or the error of the
    /// first thing that has one.</summary>
    /// <param name="count">How many things.</param>
    /// <param name="work">Does the work on one of them; they are counted from 0.</param>
    public static T[] Of<T>(int count, Func<int, T> work) => Of(count, _ => false, work);

    /// <summary>The same, where some have all cores for themselves.</summary>
    /// <param name="count">How many things.</param>
    /// <param name="isAlone">Whether one has; what comes before it is finished then, and what follows waits.</param>
    /// <param name="work">Does the work on one of them; they are counted from 0.</param>
    public static T[] Of<T>(int count, Func<int, bool> isAlone, Func<int, T> work)
    {
        var results = new T[count];
        for (int from = 0; from < count;)
        {
            int to = from + 1;
            while (!isAlone(from) && to < count && !isAlone(to))
            {
                to++;
            }

            Fill(results, from, to, work);
            from = to;
        }

        return results;
    }

    private static void Fill<T>(T[] results, int from, int to, Func<int, T> work)
    {
        int next = from;
        int firstWrong = int.MaxValue;
        ExceptionDispatchInfo? why = null;
        var errors = new Lock();
        void Work()
        {
            // Whatever comes before an error has begun by then and is finished.
            for (int i = Interlocked.Increment(ref next) - 1; i < to && i < Volatile.Read(ref firstWrong);
                i = Interlocked.Increment(ref next) - 1)
            {
                try
                {
                    results[i] = work(i);
                }
                catch (Exception e)
                {
                    lock (errors)
                    {
                        (firstWrong, why) = i < firstWrong ? (i, ExceptionDispatchInfo.Capture(e)) : (firstWrong, why);
                    }
                }
            }
        }

        Task[] others = [.. Enumerable.Range(1, Math.Max(0, Math.Min(Environment.ProcessorCount, to - from) - 1))
            .Select(_ => Task.Run(Work, CancellationToken.None))];
        Work();
        Task.WaitAll(others);
        why?.Throw();
    }
}

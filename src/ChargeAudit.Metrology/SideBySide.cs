using System.Runtime.ExceptionServices;

namespace ChargeAudit.Metrology;

/// <summary>Work on each of several things on as many threads as there are cores, begun in their order.</summary>
internal static class SideBySide
{
    /// <summary>Does the work. Whoever asked meets what one after the other would have met: the results in their order, or the error of the
    /// first thing that has one.</summary>
    /// <param name="count">How many things.</param>
    /// <param name="work">Does the work on one of them; they are counted from 0.</param>
    /// <param name="cancellation">Stops before the next thing.</param>
    public static T[] Of<T>(int count, Func<int, T> work, CancellationToken cancellation) => Of(count, _ => false, work, cancellation);

    /// <summary>The same, where some have all cores for themselves.</summary>
    /// <param name="count">How many things.</param>
    /// <param name="isAlone">Whether one has; what comes before it is finished then, and what follows waits.</param>
    /// <param name="work">Does the work on one of them; they are counted from 0.</param>
    /// <param name="cancellation">Stops before the next thing.</param>
    public static T[] Of<T>(int count, Func<int, bool> isAlone, Func<int, T> work, CancellationToken cancellation)
    {
        var results = new T[count];
        for (int from = 0; from < count;)
        {
            int to = from + 1;
            while (!isAlone(from) && to < count && !isAlone(to))
            {
                to++;
            }

            Fill(results, from, to, work, cancellation);
            from = to;
        }

        return results;
    }

    /// <summary>Begins pieces of work before their results are asked for. An error in one is left to whoever asks for its result. On
    /// disposal, pieces that have not begun are dropped, and the others are waited for.</summary>
    /// <param name="work">The pieces; each is told when to stop.</param>
    /// <param name="cancellation">Stops them as well.</param>
    public static IDisposable Ahead(IReadOnlyList<Action<CancellationToken>> work, CancellationToken cancellation) =>
        new Begun(work, cancellation);

    private static void Fill<T>(T[] results, int from, int to, Func<int, T> work, CancellationToken cancellation)
    {
        int firstWrong = int.MaxValue;
        ExceptionDispatchInfo? why = null;
        var errors = new Lock();

        // Whatever comes before an error has begun by then and is finished.
        GiveOut(from, to, i => i < Volatile.Read(ref firstWrong), i =>
        {
            try
            {
                cancellation.ThrowIfCancellationRequested();
                results[i] = work(i);
            }
            catch (Exception e)
            {
                lock (errors)
                {
                    (firstWrong, why) = i < firstWrong ? (i, ExceptionDispatchInfo.Capture(e)) : (firstWrong, why);
                }
            }
        });
        why?.Throw();
    }

    // Each thread takes the next thing as soon as it is free, until none is left or one may not begin.
    private static void GiveOut(int from, int to, Func<int, bool> mayBegin, Action<int> work)
    {
        int next = from;
        void Work()
        {
            for (int i = Interlocked.Increment(ref next) - 1; i < to && mayBegin(i); i = Interlocked.Increment(ref next) - 1)
            {
                work(i);
            }
        }

        Task[] others = [.. Enumerable.Range(1, Math.Max(0, Math.Min(Environment.ProcessorCount, to - from) - 1)).Select(_ => Begin(Work))];
        Work();
        Task.WaitAll(others);
    }

    // On a thread of its own: the pool has as many as there are cores, and one that waits for results keeps another from beginning.
    private static Task Begin(Action work) =>
        Task.Factory.StartNew(work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    private sealed class Begun : IDisposable
    {
        private readonly CancellationTokenSource _stop;
        private readonly Task _all = Task.CompletedTask;

        public Begun(IReadOnlyList<Action<CancellationToken>> work, CancellationToken cancellation)
        {
            _stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
            if (Environment.ProcessorCount > 1 && work.Count > 1)
            {
                _all = Begin(() => GiveOut(0, work.Count, _ => !_stop.IsCancellationRequested, i => Try(work[i])));
            }
        }

        public void Dispose()
        {
            _stop.Cancel();
            _all.Wait(CancellationToken.None);
            _stop.Dispose();
        }

        private void Try(Action<CancellationToken> work)
        {
            try
            {
                work(_stop.Token);
            }
            catch (Exception e) when (e is not OutOfMemoryException)
            {
                // The same error meets whoever asks for this result, in the order in which results are asked for.
            }
        }
    }
}

using System.Collections.Concurrent;
using System.Runtime.ExceptionServices;

namespace ChargeAudit.Logs.Streams;

/// <summary>
/// Runs a reader that is not ours on a thread of its own, so that one which never ends can be left behind: whoever waits for it and gets
/// nothing for a fixed time refuses the file. The thread is one that the end of the program does not wait for.
/// </summary>
internal static class WatchedWork
{
    private const int LinesAtATime = 512;
    private const int BatchesAhead = 4;

    /// <summary>Does something that gives one result.</summary>
    /// <param name="work">The work.</param>
    /// <param name="limit">How long it may take.</param>
    /// <param name="late">The refusal where it takes longer.</param>
    public static T Run<T>(Func<T> work, TimeSpan limit, Func<Exception> late)
    {
        T? result = default;
        Exception? failed = null;
        Thread thread = Start(() =>
        {
            try
            {
                result = work();
            }
#pragma warning disable CA1031 // Thrown again where it is waited for.
            catch (Exception e)
#pragma warning restore CA1031
            {
                failed = e;
            }
        });
        if (!thread.Join(limit))
        {
            throw late();
        }

        if (failed is not null)
        {
            ExceptionDispatchInfo.Throw(failed);
        }

        return result!;
    }

    /// <summary>Passes lines on as they are made.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="limit">How long the next ones may take.</param>
    /// <param name="late">The refusal where they take longer.</param>
    public static IEnumerable<string> Lines(IEnumerable<string> lines, TimeSpan limit, Func<Exception> late)
    {
        using var stop = new CancellationTokenSource();
        var batches = new BlockingCollection<List<string>>(BatchesAhead);
        Exception? failed = null;
        Thread thread = Start(() =>
        {
            try
            {
                foreach (string[] batch in lines.Chunk(LinesAtATime))
                {
                    batches.Add([.. batch], stop.Token);
                }
            }
            catch (OperationCanceledException) when (stop.IsCancellationRequested)
            {
                // The rest is no longer wanted.
            }
#pragma warning disable CA1031 // Thrown again where the lines are waited for.
            catch (Exception e)
#pragma warning restore CA1031
            {
                failed = e;
            }
            finally
            {
                batches.CompleteAdding();
            }
        });
        try
        {
            while (batches.TryTake(out List<string>? batch, limit))
            {
                foreach (string line in batch)
                {
                    yield return line;
                }
            }

            if (!batches.IsCompleted)
            {
                throw late();
            }

            if (failed is not null)
            {
                ExceptionDispatchInfo.Throw(failed);
            }
        }
        finally
        {
            stop.Cancel();
            if (thread.Join(TimeSpan.FromSeconds(1)))
            {
                batches.Dispose();
            }
        }
    }

    private static Thread Start(ThreadStart work)
    {
        var thread = new Thread(work) { IsBackground = true, Name = "reader" };
        thread.Start();
        return thread;
    }
}

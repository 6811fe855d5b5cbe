namespace ChargeAudit.Comparing.Auditing;

/// <summary>Pieces of work that are begun in their order, a few side by side, before their results are asked for. An error in one is left
/// to whoever asks for its result. On disposal, pieces that have not begun are dropped, and the others are waited for.</summary>
internal sealed class WorkAhead : IDisposable
{
    private readonly CancellationTokenSource _stop;
    private readonly IReadOnlyList<Action<CancellationToken>> _work;
    private readonly Task[] _threads;
    private int _next;

    /// <summary>Begins the work.</summary>
    /// <param name="work">The pieces; each is told when to stop.</param>
    /// <param name="cancellation">Stops them as well.</param>
    public WorkAhead(IReadOnlyList<Action<CancellationToken>> work, CancellationToken cancellation)
    {
        _work = work;
        _stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        int threads = Environment.ProcessorCount < 2 || work.Count < 2 ? 0 : Math.Min(Environment.ProcessorCount, work.Count);
        _threads = [.. Enumerable.Range(0, threads).Select(_ => Task.Run(Work, CancellationToken.None))];
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _stop.Cancel();
        Task.WaitAll(_threads);
        _stop.Dispose();
    }

    private void Work()
    {
        for (int i = Interlocked.Increment(ref _next) - 1; i < _work.Count && !_stop.IsCancellationRequested;
            i = Interlocked.Increment(ref _next) - 1)
        {
            try
            {
                _work[i](_stop.Token);
            }
            catch (Exception e) when (e is not OutOfMemoryException)
            {
                // The same error meets whoever asks for this log, in the order in which logs are asked for.
            }
        }
    }
}

using System.Collections.Concurrent;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Threads that parse pieces: as many as there are cores besides the one that reads. The pool would bring in one more for each that waits,
/// and those would take turns on the cores.
/// </summary>
internal sealed class PieceWorkers<TSink> : IDisposable
    where TSink : struct, ISampleSink
{
    // Never disposed of: a thread may still take from it.
    private readonly BlockingCollection<Piece<TSink>> _offered = [];
    private int _threads;

    /// <summary>Lets a piece be parsed by whichever thread is free first; the one that reads may be faster.</summary>
    public void Offer(Piece<TSink> piece)
    {
        int most = Environment.ProcessorCount - 1;
        if (most == 0)
        {
            return;
        }

        _offered.Add(piece);
        if (_threads < most)
        {
            _threads++;
            new Thread(Work) { IsBackground = true, Name = "log pieces" }.Start();
        }
    }

    /// <summary>Lets the threads end when they have parsed what was offered.</summary>
    public void Dispose() => _offered.CompleteAdding();

    private void Work()
    {
        foreach (var piece in _offered.GetConsumingEnumerable())
        {
            piece.ParseOnce();
        }
    }
}

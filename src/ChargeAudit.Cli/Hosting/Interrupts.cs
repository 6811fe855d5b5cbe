using System.Runtime.InteropServices;

namespace ChargeAudit.Cli.Hosting;

/// <summary>The interrupts of this process: the first asks the program to stop and to take back what it was writing; one that comes a
/// second or more later ends it at once. Those in between are the same one: a terminal and a supervisor send it to the process and to its
/// group.</summary>
public sealed class Interrupts : IDisposable
{
    private static readonly TimeSpan SameInterrupt = TimeSpan.FromSeconds(1);

    /// <summary>Long enough for a command to take back what it was writing.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly CancellationTokenSource _stop;
    private readonly TimeProvider _clock;
    private readonly Action _end;
    private readonly Lock _lock = new();
    private readonly List<PosixSignalRegistration> _signals = [];
    private ITimer? _patience;
    private long? _first;
    private bool _over;

    /// <summary>Takes nothing until <see cref="Listen"/> or <see cref="Take"/>.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="end">Ends the process at once.</param>
    /// <param name="cancellation">Asks to stop, besides interrupts.</param>
    public Interrupts(TimeProvider clock, Action end, CancellationToken cancellation)
    {
        _clock = clock;
        _end = end;
        _stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
    }

    /// <summary>Asks to stop.</summary>
    public CancellationToken Token => _stop.Token;

    /// <summary>Takes the interrupts of this process from here on.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="cancellation">Asks to stop, besides interrupts.</param>
    public static Interrupts Listen(TimeProvider clock, CancellationToken cancellation)
    {
        var interrupts = new Interrupts(clock, () => Environment.Exit(ExitStatus.Interrupted), cancellation);

        // A terminal that is closed ends a command as an interrupt does; logs that a page was given go.
        foreach (var signal in (PosixSignal[])[PosixSignal.SIGINT, PosixSignal.SIGTERM, PosixSignal.SIGHUP])
        {
            interrupts._signals.Add(PosixSignalRegistration.Create(signal, taken =>
            {
                taken.Cancel = true;
                interrupts.Take();
            }));
        }

        return interrupts;
    }

    /// <summary>Takes one interrupt, on any thread.</summary>
    public void Take()
    {
        long now = _clock.GetTimestamp();
        lock (_lock)
        {
            if (_over)
            {
                return;
            }

            if (_first is { } first)
            {
                if (_clock.GetElapsedTime(first, now) >= SameInterrupt)
                {
                    _end();
                }

                return;
            }

            _first = now;
            _patience = _clock.CreateTimer(_ => _end(), null, Patience, Timeout.InfiniteTimeSpan);
        }

        try
        {
            _stop.Cancel();
        }
        catch (ObjectDisposedException)
        {
            // The program came to its end meanwhile.
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var signal in _signals)
        {
            signal.Dispose();
        }

        lock (_lock)
        {
            // One that is on its way has nobody to ask any more.
            _over = true;
            _patience?.Dispose();
        }

        _stop.Dispose();
    }
}

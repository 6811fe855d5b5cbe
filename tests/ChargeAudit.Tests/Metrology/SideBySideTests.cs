using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Metrology;

public sealed class SideBySideTests
{
    [Fact]
    public void Results_stand_in_the_order_of_what_they_are_of() =>
        Assert.Equal(Enumerable.Range(0, 500).Select(i => i * i), SideBySide.Of(500, i =>
        {
            // The earlier ones take longer.
            Thread.SpinWait(500 - i);
            return i * i;
        }, TestContext.Current.CancellationToken));

    [Fact]
    public void The_first_error_is_met_though_a_later_one_comes_sooner()
    {
        for (int round = 0; round < 50; round++)
        {
            var error = Assert.Throws<ArgumentException>(() => SideBySide.Of<int>(8, i =>
            {
                Thread.SpinWait(i == 2 ? 20_000 : 10);
                return i < 2 ? i : throw new ArgumentException($"thing {i}");
            }, TestContext.Current.CancellationToken));
            Assert.Equal("thing 2", error.Message);
        }
    }

    [Fact]
    public void Nothing_far_behind_an_error_is_begun()
    {
        int begun = 0;
        Assert.Throws<InvalidOperationException>(() => SideBySide.Of<int>(3000, i =>
        {
            Interlocked.Increment(ref begun);
            Thread.Sleep(i == 0 ? 0 : 1);
            return i == 0 ? throw new InvalidOperationException() : i;
        }, TestContext.Current.CancellationToken));
        Assert.InRange(begun, 1, 2999);
    }

    [Fact]
    public void What_takes_all_cores_runs_alone_and_in_its_turn()
    {
        int running = 0;
        var seen = new int[60];
        SideBySide.Of(seen.Length, i => i % 7 == 3, i =>
        {
            Interlocked.Increment(ref running);
            Thread.SpinWait(2000);
            seen[i] = Volatile.Read(ref running);
            Interlocked.Decrement(ref running);
            return i;
        }, TestContext.Current.CancellationToken);
        Assert.All(Enumerable.Range(0, seen.Length).Where(i => i % 7 == 3), i => Assert.Equal(1, seen[i]));
    }

    [Fact]
    public void Nothing_is_done_for_none() => Assert.Empty(
        SideBySide.Of<int>(0, _ => throw new InvalidOperationException(), TestContext.Current.CancellationToken));

    [Fact]
    public void Nothing_is_begun_once_it_is_stopped()
    {
        using var stop = new CancellationTokenSource();
        int begun = 0;
        Assert.Throws<OperationCanceledException>(() => SideBySide.Of(3000, i =>
        {
            stop.Cancel();
            return Interlocked.Increment(ref begun);
        }, stop.Token));
        Assert.InRange(begun, 1, Environment.ProcessorCount);
    }

    [Fact]
    public void Of_work_ahead_an_error_in_one_piece_stops_no_other()
    {
        var done = new Lazy<int>[40];
        for (int i = 0; i < done.Length; i++)
        {
            int number = i;
            done[i] = new Lazy<int>(() => number == 7 ? throw new InvalidOperationException("seven") : number);
        }

        Action<CancellationToken>[] work = [.. done.Select(d => (Action<CancellationToken>)(stop => Assert.InRange(d.Value, 0, 39)))];
        using (SideBySide.Ahead(work, CancellationToken.None))
        {
            // Whoever asks for a result gets it, whether it was begun or not; the same goes for the error.
            Assert.Equal(39, done[39].Value);
            Assert.Equal("seven", Assert.Throws<InvalidOperationException>(() => done[7].Value).Message);
            Assert.Equal(Enumerable.Range(0, 40).Where(i => i != 7), done.Where((_, i) => i != 7).Select(d => d.Value));
        }
    }

    [Fact]
    public void Work_ahead_that_is_not_begun_is_never_begun_once_it_is_stopped()
    {
        int begun = 0;
        using var gate = new ManualResetEventSlim();
        var work = SideBySide.Ahead([.. Enumerable.Repeat<Action<CancellationToken>>(stop =>
        {
            Interlocked.Increment(ref begun);
            gate.Wait(stop);
        }, 1000)], CancellationToken.None);
        work.Dispose();
        Assert.InRange(begun, 0, Environment.ProcessorCount);
    }

    // The pool has as many threads as there are cores: one that waits for results would keep another from beginning.
    [Fact]
    public void Work_begun_ahead_needs_no_thread_of_the_pool()
    {
        var ofThePool = new bool[8];
        using var all = new CountdownEvent(ofThePool.Length);
        using (SideBySide.Ahead([.. Enumerable.Range(0, ofThePool.Length).Select(i => (Action<CancellationToken>)(_ =>
        {
            ofThePool[i] = Thread.CurrentThread.IsThreadPoolThread;
            all.Signal();
        }))], TestContext.Current.CancellationToken))
        {
            Assert.True(Environment.ProcessorCount < 2 || all.Wait(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken));
        }

        Assert.DoesNotContain(true, ofThePool);
    }
}

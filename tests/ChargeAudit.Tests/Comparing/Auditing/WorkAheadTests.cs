using ChargeAudit.Comparing.Auditing;

namespace ChargeAudit.Tests.Comparing.Auditing;

public sealed class WorkAheadTests
{
    [Fact]
    public void AnErrorInOnePieceStopsNoOther()
    {
        var done = new Lazy<int>[40];
        for (int i = 0; i < done.Length; i++)
        {
            int number = i;
            done[i] = new Lazy<int>(() => number == 7 ? throw new InvalidOperationException("seven") : number);
        }

        Action<CancellationToken>[] work = [.. done.Select(d => (Action<CancellationToken>)(stop => Assert.InRange(d.Value, 0, 39)))];
        using (new WorkAhead(work, CancellationToken.None))
        {
            // Whoever asks for a result gets it, whether it was begun or not; the same goes for the error.
            Assert.Equal(39, done[39].Value);
            Assert.Equal("seven", Assert.Throws<InvalidOperationException>(() => done[7].Value).Message);
            Assert.Equal(Enumerable.Range(0, 40).Where(i => i != 7), done.Where((_, i) => i != 7).Select(d => d.Value));
        }
    }

    [Fact]
    public void WhatIsNotBegunIsNeverBegunOnceItIsStopped()
    {
        int begun = 0;
        using var gate = new ManualResetEventSlim();
        var work = new WorkAhead([.. Enumerable.Repeat<Action<CancellationToken>>(stop =>
        {
            Interlocked.Increment(ref begun);
            gate.Wait(stop);
        }, 1000)], CancellationToken.None);
        work.Dispose();
        Assert.InRange(begun, 0, Environment.ProcessorCount);
    }
}

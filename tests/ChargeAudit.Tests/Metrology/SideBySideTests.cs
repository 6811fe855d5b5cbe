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
        }));

    [Fact]
    public void The_first_error_is_met_though_a_later_one_comes_sooner()
    {
        for (int round = 0; round < 50; round++)
        {
            var error = Assert.Throws<ArgumentException>(() => SideBySide.Of<int>(8, i =>
            {
                Thread.SpinWait(i == 2 ? 20_000 : 10);
                return i < 2 ? i : throw new ArgumentException($"thing {i}");
            }));
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
        }));
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
        });
        Assert.All(Enumerable.Range(0, seen.Length).Where(i => i % 7 == 3), i => Assert.Equal(1, seen[i]));
    }

    [Fact]
    public void Nothing_is_done_for_none() => Assert.Empty(SideBySide.Of<int>(0, _ => throw new InvalidOperationException()));
}

using ChargeAudit.Cli.Hosting;
using Microsoft.Extensions.Time.Testing;

namespace ChargeAudit.Tests.Cli.Hosting;

public sealed class InterruptsTests
{
    private readonly FakeTimeProvider _clock = new();
    private int _ended;

    [Fact]
    public void The_first_asks_to_stop_and_ends_nothing()
    {
        using var interrupts = Made();
        Assert.False(interrupts.Token.IsCancellationRequested);
        interrupts.Take();
        Assert.True(interrupts.Token.IsCancellationRequested);
        Assert.Equal(0, _ended);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.9, 0)]
    [InlineData(1.1, 1)]
    [InlineData(20, 1)]
    public void A_second_one_ends_it_unless_it_is_the_same(double afterS, int ended)
    {
        using var interrupts = Made();
        interrupts.Take();
        _clock.Advance(TimeSpan.FromSeconds(afterS));
        interrupts.Take();
        Assert.Equal(ended, _ended);
    }

    [Fact]
    public void What_does_not_stop_is_ended()
    {
        using var interrupts = Made();
        interrupts.Take();
        _clock.Advance(TimeSpan.FromSeconds(29));
        Assert.Equal(0, _ended);
        _clock.Advance(TimeSpan.FromSeconds(2));
        Assert.Equal(1, _ended);
    }

    [Fact]
    public void One_that_comes_after_the_end_does_nothing()
    {
        var interrupts = Made();
        interrupts.Dispose();
        interrupts.Take();
        _clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(0, _ended);
    }

    [Fact]
    public void Others_may_ask_to_stop()
    {
        using var other = new CancellationTokenSource();
        using var interrupts = new Interrupts(_clock, () => _ended++, other.Token);
        other.Cancel();
        Assert.True(interrupts.Token.IsCancellationRequested);
    }

    private Interrupts Made() => new(_clock, () => _ended++, CancellationToken.None);
}

using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Tests.Measuring.Integration;

public sealed class CellShelfTests
{
    // Nothing may be kept in memory, packed or not: all of it goes through the file.
    private static CellShelf OnlyFile() => new(0, 0, 0);

    // Packed in memory alone.
    private static CellShelf OnlyPacked() => new(0, long.MaxValue, 0);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void CellsThatWerePutAwayComeBackBitForBit(bool inFile)
    {
        var dice = new Random(7);
        for (int round = 0; round < 40; round++)
        {
            var envelope = Envelope(dice, dice.Next(0, 600));
            var before = envelope.State();
            envelope.Rest(inFile ? OnlyFile() : OnlyPacked());
            var after = envelope.State();
            Assert.Equal(before.Count, after.Count);
            Assert.Equal(before.Cells.SelectMany(Bits), after.Cells.SelectMany(Bits));
        }
    }

    [Fact]
    public void SumsOverAnyStretchAreThoseFromBefore()
    {
        var dice = new Random(11);
        var envelope = Envelope(dice, 500);
        var twin = envelope.Clone();
        envelope.Rest(OnlyFile());
        for (int i = 0; i < 200; i++)
        {
            double from = 600 * dice.NextDouble(), to = from + (300 * dice.NextDouble());
            Assert.Equal(twin.EnergyBetweenJ(from, to), envelope.EnergyBetweenJ(from, to));
            Assert.Equal(twin.VoltSecondsBetween(from, to), envelope.VoltSecondsBetween(from, to));
            Assert.Equal(twin.MeanAtW(from), envelope.MeanAtW(from));
        }

        Assert.Equal(twin.CoveredFromS, envelope.CoveredFromS);
        Assert.Equal(twin.CoveredToS, envelope.CoveredToS);
        Assert.Equal(twin.Reduced(30).State().Cells.SelectMany(Bits), envelope.Reduced(30).State().Cells.SelectMany(Bits));
    }

    [Fact]
    public void ManyLogsOnOneShelfDoNotMixUp()
    {
        var shelf = new CellShelf(mostAwakeBytes: 200_000, mostPackedBytes: 100_000, fewestAwake: 2);
        var dice = new Random(3);
        var twins = Enumerable.Range(0, 60).Select(_ => Envelope(dice, 400)).Select(e => (Twin: e.Clone(), Resting: e)).ToList();
        twins.ForEach(t => t.Resting.Rest(shelf));
        Parallel.For(0, 600, i =>
        {
            var (twin, resting) = twins[i * 37 % twins.Count];
            Assert.Equal(twin.EnergyBetweenJ(0, 1e9), resting.EnergyBetweenJ(0, 1e9));
            Assert.Equal(Bits(twin[twin.Count - 1]), Bits(resting[resting.Count - 1]));
        });
    }

    [Fact]
    public void ACellPerReadingTakesAThirdOfItsMemoryPacked()
    {
        var envelope = new PowerEnvelope(0);
        var dice = new Random(5);
        for (int s = 0; s < 7200; s++)
        {
            double w = 10 + dice.NextDouble();
            envelope.AddReading(s, w);
            if (s < 7199)
            {
                envelope.AddInterval(new PowerInterval(s, s + 0.999, w, w, 5 + dice.NextDouble(), dice.NextDouble()));
            }
        }

        // Five of fifteen columns say something else in each cell: the reading, and the integrals of power, voltage, current and its
        // square.
        var cells = envelope.State().Cells;
        CellColumns.Pack(cells, n => new byte[n], out int bytes);
        Assert.InRange(bytes, 5 * 8 * 7200, 5.1 * 8 * 7200);
    }

    private static PowerEnvelope Envelope(Random dice, int rows)
    {
        var envelope = new PowerEnvelope(dice.Next(-2, 3));
        double time = dice.Next(3) * dice.NextDouble();
        for (int i = 0; i < rows; i++)
        {
            double step = dice.Next(4) == 0 ? 5 * dice.NextDouble() : 1;
            double w = dice.Next(3) == 0 ? -0.0 : 20 * (dice.NextDouble() - 0.1);
            envelope.AddReading(time, w);
            envelope.AddInterval(new PowerInterval(time, time + step, w, w + dice.NextDouble(), 5, dice.NextDouble(), dice.Next(9) == 0));
            time += step;
        }

        return envelope;
    }

    private static IEnumerable<long> Bits(EnvelopeBucket cell)
    {
        yield return cell.Readings;
        yield return BitConverter.DoubleToInt64Bits(cell.MinPowerW);
        yield return BitConverter.DoubleToInt64Bits(cell.MaxPowerW);
        CompensatedSum[] sums = [cell.EnergyJ, cell.CoveredS, cell.BridgedS, cell.VoltSeconds, cell.ChargeC, cell.SquaredCurrentS];
        foreach (var sum in sums)
        {
            yield return BitConverter.DoubleToInt64Bits(sum.Sum);
            yield return BitConverter.DoubleToInt64Bits(sum.Compensation);
        }
    }
}

using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Coverage;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.OddDays;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.Tests.Coverage;

/// <summary>Steps between levels: every true figure is arithmetic by hand.</summary>
public sealed class HandMadeLogTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-hand-").FullName;

    // 300 s of 0.100 W, 10 W for an hour (10 Wh), 0.300 W for an hour, all exact; 0.5 % + 5 mW.
    [Theory]
    [InlineData(RowKind.Instantaneous, 1)]
    [InlineData(RowKind.Instantaneous, 10)]
    [InlineData(RowKind.Instantaneous, 30)]
    [InlineData(RowKind.Instantaneous, 60)]
    [InlineData(RowKind.AverageEnding, 1)]
    [InlineData(RowKind.AverageEnding, 10)]
    [InlineData(RowKind.AverageEnding, 30)]
    [InlineData(RowKind.AverageEnding, 60)]
    [InlineData(RowKind.AverageStarting, 1)]
    [InlineData(RowKind.AverageStarting, 10)]
    [InlineData(RowKind.AverageStarting, 30)]
    [InlineData(RowKind.AverageStarting, 60)]
    public void A_modes_power_is_its_own(RowKind kind, double intervalS)
    {
        FoundStudy found = Audit(Meter(kind, intervalS), [(300, 0.1, 0), (3600, 10, 1), (3600, 0.3, 0)]);
        Assert.Null(found.Stopped);
        AssertNear(found, FigureKind.NoLoad, 0.1, 0.006, mayBeMissing: true);
        AssertNear(found, FigureKind.Maintenance, 0.3, 0.0075, mayBeMissing: false);
        AssertNear(found, FigureKind.Energy, 10, 10 * intervalS / 3600, mayBeMissing: false);
    }

    // 600 s of 0.25 W, 15 W for an hour (15 Wh), 0.5 W for an hour: whatever the counter's step, the charge has an energy to within two
    // steps.
    [Theory]
    [InlineData(0.001, 1)]
    [InlineData(0.01, 1)]
    [InlineData(0.1, 1)]
    [InlineData(1, 1)]
    [InlineData(0.1, 10)]
    [InlineData(1, 60)]
    public void A_counter_of_any_step_gives_the_charge(double stepWh, double intervalS)
    {
        FoundStudy found = Audit(Meter(RowKind.CounterOnly, intervalS) with { CounterStepWh = stepWh, PowerLimit = new Limit(0.005, 0) },
            [(600, 0.25, 0), (3600, 15, 1), (3600, 0.5, 0)]);
        Assert.Null(found.Stopped);
        AssertNear(found, FigureKind.Energy, 15, (2 * stepWh) + (15 * intervalS / 3600), mayBeMissing: false);
    }

    // In the 1801 s that nobody logged the device drew 12 W for 900 s and 2 W for the rest: 12 · 900 + 2 · 900 J = 3.5 Wh; with 30 min of
    // 12 W before and after 15.5 Wh.
    [Fact]
    public void A_fine_counter_knows_what_happened_in_a_gap()
    {
        FoundStudy found = Audit(
            Meter(RowKind.Instantaneous, 1) with { CounterStepWh = 0.001 },
            [(600, 0.1, 0), (1800, 12, 1), (900, 12, 1), (900, 2, 1), (1800, 12, 1), (3600, 0.3, 0)],
            gap: (2400, 4200));
        Assert.Null(found.Stopped);
        AssertNear(found, FigureKind.Energy, 15.5, 0.08, mayBeMissing: false);
    }

    // A plug with steps of 1 W shows 0 for 0.3 W: anything up to half a watt may flow.
    [Fact]
    public void A_stated_resolution_counts_where_one_value_is_all_there_is()
    {
        FoundStudy found = Audit(Meter(RowKind.AverageEnding, 5) with { PowerStep = 1, StepStated = true, PowerLimit = new Limit(0.01, 0) },
            [(1800, 0.3, 0), (3600, 12, 1), (3600, 0.3, 0)]);
        Assert.Null(found.Stopped);
        FoundFigure waiting = found.Figures.Single(f => f.Figure == FigureKind.NoLoad);
        Assert.True(waiting.Low is null || (waiting.Low <= 0.3 && waiting.High >= 0.3), waiting.ToString());
    }

    // Held: 0.3·600 + 9·3600 + 5·1800 + 2·1800 + 0.5·1800 + 0.6·300 J = 12.85 Wh, of which the charge (9, 5 and 2 W) is 12.5 Wh.
    [Fact]
    public void Values_written_on_change_are_held()
    {
        const string Log = "time (s),power (W)\n0,0.3\n600,9\n4200,5\n6000,2\n7800,0.5\n9600,0.6\n9900,0.5\n";
        MeterSheet plug = Meter(RowKind.OnChange, 1);
        Dictionary<string, string> files = new(Day(plug, [(600, 0.3, 0), (3600, 9, 1)], default).Files(1)) { ["day.csv"] = Log };
        FoundStudy found = AuditOfMadeStudy.Of(Made(files), _folder);
        Assert.Null(found.Stopped);
        AssertNear(found, FigureKind.Energy, 12.5, 0.1, mayBeMissing: false);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private FoundStudy Audit(MeterSheet meter, IEnumerable<(double S, double W, int Charge)> levels, (double, double) gap = default) =>
        AuditOfMadeStudy.Of(Made(Day(meter, levels, gap).Files(1)), _folder);

    private static OddDay Day(MeterSheet meter, IEnumerable<(double S, double W, int Charge)> levels, (double, double) gap) =>
        new("steps", false, meter, [.. levels.Select(l => new Stretch(Piece.Level(l.S, l.W), l.Charge, 5))]) { Gap = gap };

    private static MadeStudy Made(IReadOnlyDictionary<string, string> files) => new()
    {
        Seed = 1,
        Files = files,
        Truths = [],
        Charges = [],
        Summary = "",
    };

    private static MeterSheet Meter(RowKind kind, double intervalS) => new()
    {
        Name = "plug",
        Place = Place.Wall,
        Kind = kind,
        IntervalS = intervalS,
        PowerLimit = new Limit(0.005, 0.005),
        PowerStep = 0.001,
    };

    private static void AssertNear(FoundStudy found, FigureKind figure, double truth, double within, bool mayBeMissing)
    {
        FoundFigure one = found.Figures.Single(f => f.Figure == figure);
        if (one.Value is not { } value)
        {
            Assert.True(mayBeMissing && one.WhyNot is not null, one.ToString());
            return;
        }

        Assert.True(Math.Abs(value - truth) <= within, one.ToString());
        Assert.True(one.Low <= truth && truth <= one.High, one.ToString());
    }
}

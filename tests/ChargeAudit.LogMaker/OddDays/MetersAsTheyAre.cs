using ChargeAudit.LogMaker.Meters;
using static ChargeAudit.LogMaker.OddDays.Parts;

namespace ChargeAudit.LogMaker.OddDays;

/// <summary>Plain days, oddly logged.</summary>
internal static class MetersAsTheyAre
{
    public static IEnumerable<OddDay> All =>
    [
        new("readings in steps of 1 W, rounded", false, Plug with { PowerStep = 1, PowerNoise = 0.05, StepStated = true }, Day),
        new("readings in steps of 2 W, cut down", false,
            Plug with { PowerStep = 2, PowerNoise = 0.05, PowerLimit = new Limit(0.01, 0.05), CutsDown = true }, Day, "step"),
        new("an idle reading of -8 mW", false, Plug with { PowerLimit = new Limit(0.005, 0.010), PowerError = new Limit(0, -0.008) },
            [Level(10, 0), .. Plain(60, 12, 30, 0.9), Level(60, 0.2)]),
        new("a current that reads 10 mA too little", false,
            Line with { CurrentLimit = new Limit(0.002, 0.010), CurrentError = new Limit(0, -0.0095) },
            [Level(10, 0), .. Plain(60, 12, 30, 0.9), Level(60, 0.2)]),
        new("a meter the wrong way round", false, Line with { Reversed = true }, [Level(10, 0), .. Plain(60, 12, 30, 0.9), Level(60, 0.2)],
            "wrong way", "reversed", "sign", "other way", "negative", "swapped"),
        new("a plug pulled before and after", false, Plug,
            [Level(20, 0), Level(10, 0.05), .. Plain(60, 12, 30, 0.9), Level(30, 0.2), Level(20, 0.05), Level(20, 0)]),
        new("the charger unplugged for five minutes in the middle", false, Plug,
            [Level(10, 0.05), Level(30, 11, 1), Level(5, 0, 1), .. Plain(30, 11, 30, 0.9), Level(60, 0.2)]),
        new("a plug that reports changes of 0.5 W", false, Plug with { Kind = RowKind.OnChange, ReportsW = 0.5 }, Day),
        new("a plug that reports changes of 0.1 W, looking every 10 s", false,
            Plug with { Kind = RowKind.OnChange, ReportsW = 0.1, IntervalS = 10 }, Day),
        new("means over 15 minutes", false, Plug with { IntervalS = 900 }, SlowDay, "fewer than 30 readings"),
        new("instants 15 minutes apart", false, Plug with { IntervalS = 900, Kind = RowKind.Instantaneous }, SlowDay, "readings", "apart",
            "15 min", "900 s", "sampl"),
        new("instants a minute apart beside a pulsed pad", true, Plug with { IntervalS = 60, Kind = RowKind.Instantaneous },
            [Pulses(60), .. Plain(90, 12, 60, 1.2), Level(60, 0.6)], "apart", "60 s", "pulses", "sampl"),
        new("means over a minute", true, Plug with { IntervalS = 60 }, [Pulses(60), .. Plain(90, 12, 60, 1.2), Level(60, 0.6)]),
        new("a counter of 0.001 Wh every half second", false, Counter(0.001, 0.5), Day),
        new("a counter of 0.1 Wh every second", false, Counter(0.1, 1), Day, "counter", "step"),
        new("a counter of 1 Wh every second", false, Counter(1, 1), Day, "counter", "step"),
        new("a counter of 0.01 kWh every minute", false, Counter(10, 60), [Level(120, 0.3), .. Plain(150, 40, 60, 3), Level(300, 0.5)],
            "counter", "step"),
        new("a counter of 0.01 kWh that never moves on", false, Counter(10, 60), Day, "counter", "step", "move"),
        new("a fine counter over half an hour of lost rows", false, Plug with { CounterStepWh = 0.001 }, Day) { Gap = (1800, 3600) },
        new("a counter of 0.1 Wh over ten minutes of lost rows", false, Plug with { CounterStepWh = 0.1 }, Day) { Gap = (1800, 2400) },
        new("ten minutes of lost rows on the plateau, no counter", false, Plug, Day, "gap", "lost", "nobody measured")
        {
            Gap = (1800, 2400),
        },
        new("lost rows where the charge ends", false, Plug, Day, "gap", "lost", "nobody measured") { Gap = (5600, 7200) },
        new("one row in twenty lost", false, Plug with { RowsLost = 0.05 }, Day),
        new("a log that begins while the device charges", false, Plug, [.. Plain(40, 12, 30, 0.9), Level(60, 0.2)], "starts while",
            "begins while", "missing"),
        new("a log that ends while the device charges", false, Plug, [Level(10, 0.05), Ramp(50, 11.5, 12, 1)], "ends while", "cut short"),
        new("a row every quarter of a second with noise of 0.2 W", false, Plug with { IntervalS = 0.25, PowerNoise = 0.2 }, Day),
    ];

    private static IReadOnlyList<Stretch> Day => [Level(10, 0.05), .. Plain(60, 12, 30, 0.9), Level(60, 0.2)];

    private static IReadOnlyList<Stretch> SlowDay => [Level(97, 0.05), .. Plain(180, 12, 120, 0.9), Level(240, 0.2)];
}

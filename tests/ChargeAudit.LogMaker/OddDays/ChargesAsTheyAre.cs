using static ChargeAudit.LogMaker.OddDays.Parts;

namespace ChargeAudit.LogMaker.OddDays;

/// <summary>Days on which the device does something odd.</summary>
internal static class ChargesAsTheyAre
{
    public static IEnumerable<OddDay> All =>
    [
        new("a flat first stage of 4 W before 15 W", false, Line, [Level(10, 0), Level(15, 4, 1, 9), .. Plain(45, 15, 25, 1), Level(60, 0.2)]),
        new("a trickle of 0.6 W before 10 W", false, Line, [Level(10, 0), Level(12, 0.6, 1), .. Plain(60, 10, 30, 0.8), Level(60, 0.1)]),
        new("fast charging agreed on after 20 s at 2.5 W", false, Plug, [Level(10, 0.05), Level(20 / 60.0, 2.5, 1), .. Plain(50, 18, 30, 1.4), Level(60, 0.25)]),
        new("a load that wanders by 10 % about 3 W after full", true, Plug, [Level(10, 0.25), .. Plain(70, 12, 35, 3.6), .. Wander(150, 6, 3, 0.1, 0, 11)]),
        new("held at 80 % for three hours, then finished", false, Plug, [Level(10, 0.05), Ramp(50, 14, 15, 1), Level(180, 0.9, 1), .. Plain(15, 15, 30, 1), Level(60, 0.25)], "held", "hold", "pause", "break"),
        new("phone in use all the time", false, Plug, [Level(10, 0.05), .. Wander(80, 2, 11, 0.2, 1, 12), Fall(30, 10, 1.2, 1), .. Wander(60, 3, 0.5, 0.4, 0, 13)]),
        new("phone in use after it was full", false, Plug, [Level(10, 0.05), .. Plain(60, 12, 30, 0.9), Level(30, 0.2), Level(8, 3.5), Level(20, 0.2), Level(10, 2.8), Level(30, 0.2)]),
        new("earbud case of 0.3 W on a pad of 0.3 W", true, Plug, [Level(15, 0.3), Level(40, 0.62, 1), Fall(30, 0.62, 0.4, 1), Level(60, 0.31)]),
        new("taken off the moment it was full", true, Plug, [Level(10, 0.25), .. Plain(60, 12, 30, 1.1), Level(40, 0.25)]),
        new("taken off at full power", true, Plug, [Level(10, 0.25), Ramp(50, 11.5, 12, 1), Level(40, 0.25)], "taken off", "cut short", "removed"),
        new("a pause of 10 minutes", false, Plug, [Level(10, 0.05), Level(30, 11, 1), Level(10, 0.1, 1), .. Plain(30, 11, 30, 0.9), Level(60, 0.2)]),
        new("a pause of 40 minutes", false, Plug, [Level(10, 0.05), Level(30, 11, 1), Level(40, 0.1, 1), .. Plain(30, 11, 30, 0.9), Level(60, 0.2)], "pause", "charges", "break", "hold"),
        new("two charges of one device in a log", true, Plug, [Level(10, 0.25), .. Plain(40, 12, 30, 1.2, 1), Level(30, 0.6), Level(60, 0.25), .. Plain(25, 12, 30, 1.2, 2), Level(40, 0.6)]),
        new("two devices one after another", true, Plug, [Level(10, 0.25), .. Plain(50, 12, 30, 1.2, 1), Level(5, 0.25), .. Plain(60, 5, 25, 0.8, 2), Level(40, 0.5)]),
        new("top-ups every 40 minutes", false, Plug, [Level(10, 0.05), .. Plain(60, 12, 30, 0.9), .. Enumerable.Range(0, 6).SelectMany(_ => new[] { Level(38, 0.2), Level(2, 5) }), Level(30, 0.2)]),
        new("throttled by heat for 20 minutes", true, Plug, [Level(10, 0.25), Level(25, 12, 1), Level(20, 5, 1), .. Plain(40, 12, 30, 1.3), Level(60, 0.6)]),
        new("throttled again and again", true, Plug, [Level(10, 0.25), .. Enumerable.Range(0, 10).SelectMany(_ => new[] { Level(5, 10, 1), Level(4, 4, 1) }), Fall(40, 10, 1.2, 1), Level(60, 0.6)]),
        new("an old battery that never holds a plateau", false, Plug, [Level(10, 0.05), Ramp(90, 9, 3, 1), Fall(40, 3, 0.7, 1), Level(60, 0.2)]),
        new("a staircase of four stages", false, Plug, [Level(10, 0.05), Level(30, 9, 1), Level(20, 7, 1), Level(20, 5, 1), Level(20, 3, 1), Level(60, 0.25)], "stage", "cut short", "taken off", "flat"),
        new("a fall down to 3 % over two hours", false, Plug, [Level(10, 0.05), .. Plain(40, 15, 120, 0.45), Level(60, 0.2)]),
        new("no fall at all: a shaver", false, Plug, [Level(10, 0.05), Level(120, 5, 1), Level(60, 0.1)], "taken off", "cut short", "fall"),
        new("found and lost five times before it stays", true, Plug, [Level(10, 0.25), .. Enumerable.Range(0, 5).SelectMany(_ => new[] { Level(0.3, 6), Level(0.7, 0.25) }), .. Plain(50, 12, 30, 1.2), Level(60, 0.6)], "attempt", "placed", "place the device"),
        new("a fall that ends where the full device draws the same", true, Plug, [Level(10, 0.25), .. Plain(50, 12, 60, 1.2), Level(90, 1.2)]),
        new("a fan in the pad that runs on for half an hour", true, Plug, [Level(10, 0.25), .. Plain(50, 13.5, 30, 2.6), Level(30, 2), Level(60, 0.5)], "stage", "flat", "cut short", "level"),
        new("a sip of five minutes", false, Plug, [Level(30, 0.05), Level(5, 8, 1), Fall(4, 8, 0.8, 1), Level(60, 0.2)]),
        new("a computer that works while it charges", false, Plug, [Level(10, 0.3), .. Wander(100, 1, 45, 0.35, 1, 14), Fall(40, 40, 8, 1), .. Wander(60, 4, 2.5, 0.3, 0, 15)]),
        new("waiting for ten hours with pulses, then a short charge", true, Plug, [Pulses(600), .. Plain(12, 12, 15, 1.2), Level(40, 0.6)]),
        new("flows back for ten minutes", false, Line, [Level(10, 0), Level(40, 10, 1, 9), Level(10, -0.8, 1), .. Plain(20, 10, 30, 0.8), Level(40, 0.1)], "back", "reverse", "negative", "discharge"),
    ];
}

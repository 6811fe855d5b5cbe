using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads a meter's table of a study file.</summary>
internal static class MeterReader
{
    public static readonly (string Word, MeasuringPoint Point)[] Points =
    [
        ("wall", MeasuringPoint.Wall), ("usb", MeasuringPoint.Usb), ("device", MeasuringPoint.Device), ("battery", MeasuringPoint.Battery),
    ];

    public static readonly (string Word, SampleKind Kind)[] SampleKinds =
    [
        ("instantaneous", SampleKind.Instantaneous), ("average-ending", SampleKind.AverageEnding),
        ("average-starting", SampleKind.AverageStarting), ("on-change", SampleKind.OnChange),
    ];

    public static readonly (string Word, GapPolicy Policy)[] GapPolicies =
        [("bridge", GapPolicy.Bridge), ("exclude", GapPolicy.Exclude), ("refuse", GapPolicy.Refuse)];

    public static readonly (string Word, FlowSign Sign)[] Signs = [("as-written", FlowSign.AsWritten), ("turned", FlowSign.Turned)];

    public static readonly (string Word, DateOrder Order)[] DateOrders = [("day-first", DateOrder.DayFirst),
        ("month-first", DateOrder.MonthFirst)];

    public static readonly (string Word, LogQuantity Quantity)[] Quantities =
    [
        ("time", LogQuantity.Time), ("date", LogQuantity.Date), ("clock", LogQuantity.Clock), ("voltage", LogQuantity.Voltage),
        ("current", LogQuantity.Current), ("power", LogQuantity.Power), ("apparent-power", LogQuantity.ApparentPower),
        ("power-factor", LogQuantity.PowerFactor), ("energy", LogQuantity.Energy), ("charge", LogQuantity.Charge),
        ("temperature", LogQuantity.Temperature), ("frequency", LogQuantity.Frequency),
    ];

    public static string WordOf(MeasuringPoint point) => Points.First(p => p.Point == point).Word;

    public static Meter Read(string name, TomlTableReader table)
    {
        var accuracy = new Dictionary<LogQuantity, MeterAccuracy>();
        IReadOnlyList<PhaseAccuracy> phase = [];
        if (table.Table("accuracy") is { } stated)
        {
            accuracy = Stated(stated);
            phase = MeterMainsReader.Phase(stated, table.Choice("point", Points));
            if (stated.Table("stability") is { } moves)
            {
                var stability = Stated(moves);
                if (stability.Keys.Where(q => !accuracy.ContainsKey(q)).Select(q => (LogQuantity?)q).FirstOrDefault() is { } alone)
                {
                    string word = Quantities.First(q => q.Quantity == alone).Word;
                    throw moves.Refuse(
                        moves.LineOf(word),
                            $"{moves.PathOf(word)} stands without {stated.PathOf(word)}; state the accuracy that the error lies "
                            + "within, too");
                }

                moves.Finish();
                foreach (var (quantity, moved) in stability)
                {
                    accuracy[quantity] = accuracy[quantity] with { Stability = moved };
                }
            }

            stated.Finish();
        }

        (double? SelfPowerW, MeasuringPoint? From) self = table.Text("self-power") is { } selfText
            ? SelfPower(table, selfText)
            : default((double?, MeasuringPoint?));
        var meter = new Meter
        {
            Name = name,
            Instrument = table.Text("instrument"),
            Accuracy = accuracy,
            Calibrations = CalibrationReader.Of(table),
            Phase = phase,
            PowerFactor = MeterMainsReader.PowerFactor(table),
            Limits = MeterMainsReader.Limits(table),
            BurdenOhm = QuantityText.Optional(table, "burden", "Ω", "0.03 ohm"),
            SelfPowerW = self.SelfPowerW,
            SelfPowerFrom = self.From,
            Options = new LogOptions
            {
                Point = table.Choice("point", Points),
                Samples = table.Choice("samples", SampleKinds),
                Sign = table.Choice("sign", Signs) ?? FlowSign.AsWritten,
                ChangeThreshold = ChangeThresholdOf(table),
                Gaps = table.Choice("gaps", GapPolicies) ?? GapPolicy.Bridge,
                Series = table.Text("series"),
                TimeZone = table.Text("timezone"),
                DateOrder = table.Choice("date-order", DateOrders),
                FixedIntervalS = QuantityText.Optional(table, "interval", "s", "1 s"),
                Columns = table.Table("columns") is { } columns ? Columns(columns) : new Dictionary<LogQuantity, ColumnChoice>(),
            },
        };
        table.Finish();
        return meter;
    }

    private static Dictionary<LogQuantity, MeterAccuracy> Stated(TomlTableReader table)
    {
        var stated = new Dictionary<LogQuantity, MeterAccuracy>();
        foreach (var (word, quantity) in Quantities)
        {
            if (table.Text(word) is { } text)
            {
                stated.Add(quantity, MeterAccuracy.TryParse(text, quantity, out var read, out string? fault)
                    ? read
                    : throw table.Refuse(table.LineOf(word), $"{table.PathOf(word)}: {fault}"));
            }
        }

        return stated;
    }

    private static ChangeThreshold? ChangeThresholdOf(TomlTableReader table)
    {
        const string Key = "change-threshold";
        if (table.Text(Key) is not { } text)
        {
            return null;
        }

        if (table.Choice("samples", SampleKinds) is { } samples and not SampleKind.OnChange)
        {
            throw table.Refuse(table.LineOf(Key),
                $"{table.PathOf(Key)} belongs to logs written on change, and samples says "
                + $"{SampleKinds.First(k => k.Kind == samples).Word}; leave one of them out");
        }

        return ThresholdText.TryParse(text)
            ?? throw table.Refuse(table.LineOf(Key), $"{table.PathOf(Key)} is \"{text}\"; {ThresholdText.Expected}");
    }

    private static Dictionary<LogQuantity, ColumnChoice> Columns(TomlTableReader table)
    {
        var choices = new Dictionary<LogQuantity, ColumnChoice>();
        foreach (var (word, quantity) in Quantities)
        {
            if (!table.TryGet(word, out var node))
            {
                continue;
            }

            choices.Add(quantity, node.Value switch
            {
                string header => new ColumnChoice(header, null, null),
                double position when position >= 1 && position == Math.Floor(position) => new ColumnChoice(null, (int)position, null),
                Dictionary<string, TomlNode> => Described(table.Table(word)!),
                _ => throw table.Refuse(node.Line,
                    $"{table.PathOf(word)} is {node.Description}; the column's header in quotes or its position counted from 1 was "
                    + "expected"),
            });
        }

        table.Finish();
        return choices;
    }

    private static ColumnChoice Described(TomlTableReader table)
    {
        var choice = new ColumnChoice(table.Text("header"), (int?)table.Number("position", 1, 100_000), table.Text("unit"));
        table.Finish();
        return choice.Header is null == choice.Position is null
            ? throw table.Refuse(table.Line, $"{table.Path} needs either a header or a position, as in {{ header = \"U\", unit = \"mV\" }}")
            : choice;
    }

    private static (double SelfPowerW, MeasuringPoint? From) SelfPower(TomlTableReader table, string text)
    {
        string[] parts = text.Split(" from ", 2, StringSplitOptions.TrimEntries);
        double power = QuantityText.Parse(table, "self-power", parts[0], "W", "0.1 W from usb");
        if (parts.Length == 1)
        {
            return (power, null);
        }

        var known = Points.Where(p => p.Word == parts[1]).ToList();
        return known.Count == 1
            ? (power, known[0].Point)
            : throw table.Refuse(table.LineOf("self-power"),
                $"{table.PathOf("self-power")} is taken from \"{parts[1]}\"; it must be one of "
                + $"{string.Join(", ", Points.Select(p => p.Word))}");
    }
}

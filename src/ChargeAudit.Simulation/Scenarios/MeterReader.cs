using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>Reads the meters of a scenario file.</summary>
internal static class MeterReader
{
    public static MeterModel Read(string name, ScenarioTable t)
    {
        MeterModel meter = new()
        {
            Name = name,
            Instrument = t.TextOr("instrument", null),
            Point = t.Choice<MeasuringPoint>("point", null, ("wall", MeasuringPoint.Wall), ("usb", MeasuringPoint.Usb),
                ("device", MeasuringPoint.Device), ("battery", MeasuringPoint.Battery)),
            Samples = t.Choice<SampleKind>("samples", null, ("instantaneous", SampleKind.Instantaneous),
                ("average-ending", SampleKind.AverageEnding), ("average-starting", SampleKind.AverageStarting)),
            IntervalS = t.Positive("interval", "s"),
            Columns = [.. t.List("columns").Select(Column)],
            ClockDrift = t.DriftOr("clock-drift", 0),
            ClockSpreadS = t.SizeOr("clock-spread", "s", 0),
            LostShare = t.ShareOr("lost-rows", 0),
            Dialect = t.TableOr("text") is { } text ? Dialect(text) : new MeterDialect(),
        };
        if (meter.Columns.Count == 0)
        {
            throw t.Problem("columns", "a meter needs at least one column; add [[meters.NAME.columns]]");
        }

        t.End();
        return meter;
    }

    private static MeterColumn Column(ScenarioTable t)
    {
        LogQuantity quantity = t.Choice<LogQuantity>(
            "quantity", null, ("voltage", LogQuantity.Voltage), ("current", LogQuantity.Current), ("power", LogQuantity.Power),
                ("apparent-power", LogQuantity.ApparentPower), ("power-factor", LogQuantity.PowerFactor), ("energy", LogQuantity.Energy));
        string coherent = Coherent(quantity);
        string unit = t.TextOr("unit", coherent)!;
        if (!ValueText.TryParse("1 " + unit, coherent, out double size) && !(quantity == LogQuantity.PowerFactor && unit.Length == 0))
        {
            throw t.Problem("unit", $"'unit' is '{unit}', expected {coherent} with or without an SI prefix");
        }

        // Counters count joules inside; watt-hours are what displays show.
        size = quantity == LogQuantity.PowerFactor ? 1 : size;
        string? accuracy = t.TextOr("accuracy", null);
        (double gain, double offset) = accuracy is null ? (0, 0) : Accuracy(t, accuracy, coherent);
        MeterColumn column = new()
        {
            Quantity = quantity,
            Header = t.Text("header"),
            Factor = quantity == LogQuantity.Energy ? size * 3600 : size,
            Step = t.Positive("step", "1"),
            Accuracy = accuracy,
            GainHalfWidth = gain,
            OffsetHalfWidth = offset,
            Noise = quantity == LogQuantity.PowerFactor ? t.SizeOr("noise", "1", 0) : t.SizeOr("noise", coherent, 0),
        };
        t.End();
        return column;
    }

    private static string Coherent(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => "V",
        LogQuantity.Current => "A",
        LogQuantity.Power => "W",
        LogQuantity.ApparentPower => "VA",
        LogQuantity.Energy => "Wh",
        _ => "1",
    };

    /// <summary>Half-widths from a text such as <c>0.05 % + 2 mV</c>: a share of the reading, a fixed part, or both.</summary>
    private static (double Gain, double Offset) Accuracy(ScenarioTable t, string text, string unit)
    {
        double gain = 0;
        double offset = 0;
        foreach (string part in text.Split('+', StringSplitOptions.TrimEntries))
        {
            if (part.EndsWith('%') && ValueText.TryParse(part, "1", out double share))
            {
                gain += share;
            }
            else if (ValueText.TryParse(part, unit, out double size))
            {
                offset += size;
            }
            else
            {
                throw t.Problem("accuracy",
                    $"'accuracy' is '{text}', expected a share, a fixed part, or both, such as '0.1 % + 1 m{unit}'");
            }
        }

        return (gain, offset);
    }

    private static MeterDialect Dialect(ScenarioTable t)
    {
        MeterDialect dialect = new()
        {
            Separator = t.Choice<char>("separator", ',', (",", ','), (";", ';'), ("\t", '\t')),
            DecimalSign = t.Choice<char>("decimal", '.', (".", '.'), (",", ',')),
            Time = t.Choice<TimeForm>(
                "time", TimeForm.Elapsed, ("elapsed", TimeForm.Elapsed), ("iso-offset", TimeForm.IsoOffset), ("iso-utc", TimeForm.IsoUtc),
                    ("iso-local", TimeForm.IsoLocal), ("epoch-s", TimeForm.EpochSeconds), ("epoch-ms", TimeForm.EpochMilliseconds),
                    ("date-and-clock", TimeForm.DateAndClock)),
            TimeHeader = t.TextOr("time-header", "Time")!,
            TimeDigits = (int)t.SizeOr("time-digits", "1", 0),
            CarriageReturn = t.FlagOr("carriage-return", false),
            Preamble = t.Texts("preamble"),
        };
        if (dialect.Separator == ',' && dialect.DecimalSign == ',')
        {
            throw t.Problem("decimal", "a comma cannot be both the separator and the decimal sign; choose another separator");
        }

        t.End();
        return dialect;
    }
}

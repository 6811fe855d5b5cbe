using System.Text.Json;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.Json;

/// <summary>Logs in JSON: how they were understood, and what was found in them.</summary>
internal static class LogJson
{
    private const string ClockNotWorkedOut = "the uncertainty of the meter's clock is not worked out";
    private const string ReadingNotWorkedOut = "the uncertainty of a single reading is not worked out";

    /// <summary>Everything found in one log.</summary>
    public static void Log(Utf8JsonWriter json, LogMeasurement log)
    {
        json.WriteString("file", log.Files[0]);
        json.Objects("files", log.Files.Zip(log.Sha256), f =>
        {
            json.WriteString("name", f.First);
            json.WriteString("sha256", f.Second);
        });
        Optional(json, "point", log.Point is { } point ? StableName.Of(point) : null, "nobody said where the meter sat");
        Optional(json, "meter", log.Meter, "no meter is named");
        json.WriteNumber("rows", log.Rows);
        json.WriteNumber("rowsSkipped", log.RowsSkipped);
        Layout(json, log.Layout);
        json.WriteString("powerFrom", log.PowerFrom);
        Faults(json, log.Faults);
        json.Measured("energy", log.Energy);
        json.Figure("charge", log.Charge);
        json.Plain("duration", log.DurationS, "s", ClockNotWorkedOut);
        json.Measured("meanPower", log.MeanPower);
        json.Plain("peakPower", log.PeakPowerW, "W", ReadingNotWorkedOut);
        if (log.CounterEnergyWh is { } counter)
        {
            json.Plain("counterEnergy", counter, "Wh", "the counter's own uncertainty is not stated");
        }
        else
        {
            json.Missing("counterEnergy", "the log holds no energy counter");
        }

        json.Objects("sessions", log.Sessions, s =>
        {
            Span(json, log.Layout, s.StartS, s.EndS);
            json.Measured("energy", s.Energy);
            json.Plain("duration", s.DurationS, "s", ClockNotWorkedOut);
            json.Plain("maintenanceDuration", s.MaintenanceS, "s", ClockNotWorkedOut);
        });
        json.Objects("modes", log.Modes, m =>
        {
            json.WriteString("mode", StableName.Of(m.Span.Mode));
            Span(json, log.Layout, m.Span.StartS, m.Span.EndS);
            json.Number("startU", m.Span.StartUncertaintyS);
            json.Number("endU", m.Span.EndUncertaintyS);
            json.Measured("energy", m.Energy);
            json.Plain("duration", m.Span.DurationS, "s", ClockNotWorkedOut);
            json.Figure("meanPower", m.MeanPower);
            ChainJson.Details(json, [.. log.Details.Where(d => 0.5 * (d.StartS + d.EndS) is var middle && middle >= m.Span.StartS && middle < m.Span.EndS)]);
        });
        json.Strings("doubts", log.Doubts);
    }

    /// <summary>How a log was understood.</summary>
    public static void Layout(Utf8JsonWriter json, LogLayout layout)
    {
        json.WriteString("format", layout.Format);
        if (layout.Dialect is { } dialect)
        {
            json.Object("dialect", () =>
            {
                json.WriteString("encoding", dialect.Encoding);
                json.WriteString("separator", dialect.Separator.ToString());
                json.WriteString("decimalSeparator", dialect.DecimalSeparator.ToString());
                if (dialect.HeaderLine is { } header)
                {
                    json.WriteNumber("headerLine", header);
                }
                else
                {
                    json.Missing("headerLine", "the log has no header");
                }

                json.WriteNumber("firstDataLine", dialect.FirstDataLine);
            });
        }
        else
        {
            json.Missing("dialect", "the format is not delimited text");
        }

        json.Objects("columns", layout.Columns, c =>
        {
            json.WriteNumber("position", c.Index + 1);
            json.WriteString("header", c.Header);
            json.WriteString("quantity", StableName.Of(c.Quantity));
            json.WriteString("unit", c.Unit);
            json.Number("factor", c.Factor);
            if (c.Offset != 0)
            {
                json.Number("offset", c.Offset);
            }

            json.WriteString("why", c.Why);
        });
        json.Object("time", () =>
        {
            json.WriteString("form", layout.TimeForm);
            json.Time("start", layout.Start, "the log holds elapsed time only");
            json.WriteBoolean("startIsLocal", layout.StartIsLocal);
        });
        json.Object("sampling", () =>
        {
            json.Number("medianInterval", layout.MedianIntervalS);
            json.WriteString("kind", StableName.Of(layout.Samples));
            json.WriteString("why", layout.SamplesWhy);
            json.Number("gapThreshold", layout.GapThresholdS);
        });
        json.Object("resolution", () =>
        {
            foreach (var (quantity, step) in layout.Resolution.OrderBy(r => r.Key))
            {
                json.Number(StableName.Of(quantity), step);
            }
        });
        json.Strings("notes", layout.Notes);
    }

    /// <summary>Faults of one log.</summary>
    public static void Faults(Utf8JsonWriter json, IReadOnlyList<Fault> faults) => json.Objects("faults", faults, f => Fault(json, f));

    /// <summary>One kind of fault.</summary>
    public static void Fault(Utf8JsonWriter json, Fault fault)
    {
        json.WriteString("kind", StableName.Of(fault.Kind));
        if (fault.FirstLine > 0)
        {
            json.WriteNumber("line", fault.FirstLine);
            json.WriteNumber("lastLine", fault.LastLine);
        }
        else
        {
            json.Missing("line", "the fault belongs to the log as a whole");
            json.WriteNull("lastLine");
        }

        json.WriteNumber("count", fault.Count);
        json.WriteString("detail", fault.Detail);
    }

    /// <summary>Start and end in seconds from the log's first sample, and the start's absolute time where known.</summary>
    public static void Span(Utf8JsonWriter json, LogLayout layout, double startS, double endS)
    {
        json.Number("start", startS);
        json.Number("end", endS);
        json.Time("startTime", layout.Start?.AddSeconds(startS), "the log holds elapsed time only");
    }

    /// <summary>A text; null with the reason where it is not known.</summary>
    public static void Optional(Utf8JsonWriter json, string name, string? text, string whyNot)
    {
        if (text is not null)
        {
            json.WriteString(name, text);
        }
        else
        {
            json.Missing(name, whyNot);
        }
    }
}

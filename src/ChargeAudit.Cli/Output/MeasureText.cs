using System.Globalization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>measure</c> and <c>inspect</c> print for people.</summary>
internal static class MeasureText
{
    public static void Write(TerminalText text, LogMeasurement log)
    {
        text.Title(string.Join(" + ", log.Files));
        text.Line(
            $"Energy {FigureText.Of(log.Energy)} in {FigureText.Duration(log.DurationS)}, mean {FigureText.Value(log.MeanPower)}, peak "
            + $"{FigureText.Plain(log.PeakPowerW, "W")}.");
        if (log.Charge.Value is { } charge)
        {
            text.Line($"Charge {FigureText.Of(charge)}. Ampere-hours at different voltages cannot be compared; watt-hours can.");
        }

        if (log.CounterEnergyWh is { } counted)
        {
            text.Line($"The meter's own counter says {FigureText.Plain(counted, "Wh", 3)}.");
        }

        text.Line(
            $"Power from the {log.PowerFrom}; {Rows(log.Rows, log.RowsSkipped)}, one every "
            + $"{FigureText.Plain(log.Layout.MedianIntervalS, "s", 3)}, {SampleWords(log.Layout)}.");
        if (ReadAs(log.Layout) is { } readAs)
        {
            text.Line(readAs);
        }

        if (log.Energy.UnknownBecause is { } unknown)
        {
            text.Line($"No interval: {unknown}. State it on the command line or in the study.");
        }

        text.Table(
            ["mode", "from", "to", "energy", "mean power"],
            log.Modes.Select(m =>
                (IReadOnlyList<string>)[Words.Mode(m.Span.Mode), Clock(log.Layout, m.Span.StartS), Clock(log.Layout, m.Span.EndS),
                FigureText.Of(m.Energy), MeanPower(m)]));
        Faults(text, log.Faults);
        if (log.Doubts.Count > 0)
        {
            text.Line("What to doubt");
            text.Bullets(log.Doubts.Select(d => d.Text).Distinct());
        }

        CautionText.Write(text, log.Point);
    }

    private static string MeanPower(ModeResult mode) => mode.MeanPower.Value is { } power
        ? FigureText.Value(power)
        : $"none: {mode.MeanPower.WhyNot}";

    public static void Write(TerminalText text, string file, LogLayout layout, ReadOutcome outcome, double durationS)
    {
        text.Title(file);
        if (layout.Dialect is { } d)
        {
            string header = d.HeaderLine is { } line ? $"header in line {line}" : "no header";
            text.Line(
                $"{d.Encoding}, fields separated by {Separator(d.Separator)}, decimal {(d.DecimalSeparator == ',' ? "comma" : "point")}, "
                + $"{header}, readings from line {d.FirstDataLine}.");
        }
        else
        {
            text.Line($"Format {layout.Format}.");
        }

        if (ReadAs(layout) is { } readAs)
        {
            text.Line(readAs);
        }

        string start = layout.Start is { } at ? $", starting {At(layout, at)}" : "";
        text.Line(
            $"Time: {layout.TimeForm}{start}. One row every {FigureText.Plain(layout.MedianIntervalS, "s", 3)}; {SampleWords(layout)} "
            + $"({layout.SamplesWhy}).");
        text.Line($"{Rows(outcome.Rows, outcome.RowsSkipped)} over {FigureText.Duration(durationS)}.");
        text.Table(
            ["column", "header", "taken as", "unit", "why"],
            layout.Columns.Select(c =>
                (IReadOnlyList<string>)[(c.Index + 1).ToString(CultureInfo.InvariantCulture), c.Header, StableName.Of(c.Quantity), c.Unit,
                c.Why]));
        Faults(text, outcome.Faults);
        text.Bullets(layout.Notes.Concat(outcome.Notes));
    }

    // An English table with a column for each quantity needs no word.
    private static string? ReadAs(LogLayout layout) => (layout.TableForm, layout.HeaderLanguage) switch
    {
        (null, null or "English") => null,
        (null, var language) => $"Header read as {language}.",
        (var form, null or "English") => $"Table read as {form}.",
        var (form, language) => $"Table read as {form}; header as {language}.",
    };

    private static void Faults(TerminalText text, IReadOnlyList<Fault> faults)
    {
        if (faults.Count > 0)
        {
            text.Table(
                ["fault", "count", "lines", "what was found and done"],
                faults.Select(f =>
                    (IReadOnlyList<string>)[Words.Fault(f.Kind), f.Count.ToString(CultureInfo.InvariantCulture), Lines(f), f.Detail]));
        }
    }

    private static string Lines(Fault fault) => (fault.FirstLine, fault.LastLine) switch
    {
        (0, _) => "",
        var (first, last) when last <= first => first.ToString(CultureInfo.InvariantCulture),
        var (first, last) => InvariantText.Of($"{first} to {last}"),
    };

    private static string Rows(long rows, long skipped) =>
        InvariantText.Of($"{rows} rows") + (skipped > 0 ? InvariantText.Of($" and {skipped} skipped") : "");

    private static string SampleWords(LogLayout layout) => layout.Samples switch
    {
        Logs.SampleKind.Instantaneous => "readings taken as instantaneous",
        Logs.SampleKind.AverageEnding => "readings taken as means of the interval that ends",
        Logs.SampleKind.AverageStarting => "readings taken as means of the interval that starts",
        _ => "readings written when they change",
    };

    private static string Separator(char c) => c switch { '\t' => "tabs", ' ' => "spaces", _ => $"\"{c}\"" };

    /// <summary>A time of a log, as its own clock says it, or as time since its first row.</summary>
    public static string Clock(LogLayout layout, double seconds) => layout.Start is { } start
        ? At(layout, start.AddSeconds(Math.Round(seconds)))
        : FigureText.Duration(Math.Max(0, seconds));

    private static string At(LogLayout layout, DateTimeOffset time) =>
        WrittenMarks.Date(
            time.ToString(layout.StartIsLocal ? "yyyy-MM-dd HH:mm:ss" : "yyyy-MM-dd HH:mm:sszzz", CultureInfo.InvariantCulture));
}

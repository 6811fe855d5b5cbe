using System.CommandLine;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Options;

/// <summary>The options that say about all logs of a folder at once how they are to be read.</summary>
internal sealed class ToldOptions
{
    private readonly Option<string?> _columns =
        CommonOptions.Text("--columns", "columns by position, units in brackets, - skips one: time,voltage[mV],-,current", "NAMES");
    private readonly Option<string?> _series =
        CommonOptions.Text("--series", "the series to read, where a log has a name and a value in each row: its name or part of it",
        "NAME");
    private readonly Option<string?> _samples =
        CommonOptions.OptionalWord("--samples", "what a reading stands for", StudyWords.SampleKinds);
    private readonly Option<string?> _timezone = CommonOptions.Text("--timezone", "zone of local times, such as Europe/Lisbon", "ZONE");
    private readonly Option<string?> _dateOrder =
        CommonOptions.OptionalWord("--date-order", "which part of a date like 03/04/2031 comes first", StudyWords.DateOrders);
    private readonly Option<double?> _interval =
        CommonOptions.Number("--interval", "seconds between rows of a log that holds no time", "SECONDS");

    public void AddTo(Command command)
    {
        foreach (Option option in All)
        {
            command.Options.Add(option);
        }
    }

    private Option[] All => [_columns, _series, _samples, _timezone, _dateOrder, _interval];

    /// <summary>What was said; null where nothing was.</summary>
    /// <exception cref="InputException">A name of a column is not known.</exception>
    public LogOptions? Bind(ParseResult parse) => !Array.Exists(All, o => parse.GetResult(o) is { Implicit: false }) ? null : new LogOptions
    {
        Columns = parse.GetValue(_columns) is { } columns ? LogOptionsBinder.Columns(columns) : new Dictionary<LogQuantity, ColumnChoice>(),
        Series = parse.GetValue(_series),
        Samples = parse.GetValue(_samples) is { } samples ? StudyWords.SampleKind(samples) : null,
        TimeZone = parse.GetValue(_timezone),
        DateOrder = parse.GetValue(_dateOrder) is { } order ? StudyWords.DateOrder(order) : null,
        FixedIntervalS = parse.GetValue(_interval),
    };

    /// <summary>Refuses what was said where a study file says it itself.</summary>
    /// <exception cref="InputException">Something was said.</exception>
    public void RefuseBesideStudy(ParseResult parse, string file)
    {
        if (Array.Find(All, o => parse.GetResult(o) is { Implicit: false }) is { } said)
        {
            throw new InputException(InputProblem.Usage,
                $"{said.Name} goes with a folder of logs or with --wired and --inductive; {file} says it itself, under [meters.NAME]");
        }
    }
}

using System.CommandLine;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Options;

/// <summary>The options that say how logs are to be read, of one log or of all logs of a folder at once.</summary>
internal sealed class ToldOptions
{
    public Option<string?> Columns { get; } =
        CommonOptions.Text("--columns", "columns by position, units in brackets, - skips one: time,voltage[mV],-,current", "NAMES");
    public Option<string?> Series { get; } =
        CommonOptions.Text("--series", "the series to read, where a log has a name and a value in each row: its name or part of it",
        "NAME");
    public Option<string?> Samples { get; } =
        CommonOptions.OptionalWord("--samples", "what a reading stands for", StudyWords.SampleKinds);
    public Option<string?> TimeZone { get; } = CommonOptions.Text("--timezone", "zone of local times, such as Europe/Lisbon", "ZONE");
    public Option<string?> DateOrder { get; } =
        CommonOptions.OptionalWord("--date-order", "which part of a date like 03/04/2031 comes first", StudyWords.DateOrders);
    public Option<double?> Interval { get; } =
        CommonOptions.Number("--interval", "seconds between rows of a log that holds no time", "SECONDS");

    public void AddTo(Command command)
    {
        foreach (Option option in All)
        {
            command.Options.Add(option);
        }
    }

    private Option[] All => [Columns, Series, Samples, TimeZone, DateOrder, Interval];

    /// <summary>What was said; null where nothing was.</summary>
    /// <exception cref="InputException">A name of a column is not known.</exception>
    public LogOptions? Bind(ParseResult parse) => Array.Exists(All, o => parse.GetResult(o) is { Implicit: false }) ? Read(parse) : null;

    /// <summary>The same, with the defaults where nothing was said.</summary>
    /// <exception cref="InputException">A name of a column is not known.</exception>
    public LogOptions Read(ParseResult parse) => new()
    {
        Columns = parse.GetValue(Columns) is { } columns ? LogOptionsBinder.ReadColumns(columns)
            : new Dictionary<LogQuantity, ColumnChoice>(),
        Series = parse.GetValue(Series),
        Samples = parse.GetValue(Samples) is { } samples ? StudyWords.SampleKind(samples) : null,
        TimeZone = parse.GetValue(TimeZone),
        DateOrder = parse.GetValue(DateOrder) is { } order ? StudyWords.DateOrder(order) : null,
        FixedIntervalS = parse.GetValue(Interval) is not <= 0 ? parse.GetValue(Interval)
            : throw new InputException(InputProblem.Usage,
                InvariantText.Of($"--interval is {parse.GetValue(Interval)}; the seconds between two rows were expected, above 0")),
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

using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Settings;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Options;

/// <summary>The options that tell the program what a study file would say about a log.</summary>
/// <param name="host">Whose user may have set an accuracy; null where a set one does not count.</param>
internal sealed class LogOptionsBinder(CliHost? host = null)
{
    private readonly Option<string?> _point =
        CommonOptions.OptionalWord("--point", $"{CommonOptions.WhereTheMeterSat}; the last two are laboratory work",
        StudyWords.Points);
    private readonly ToldOptions _told = new();
    private readonly Option<string?> _sign =
        CommonOptions.OptionalWord("--sign", "whether the signs of current and power are turned, for a meter connected the other way round",
        StudyWords.Signs);
    private readonly Option<string?> _changeThreshold =
        CommonOptions.Text("--change-threshold", "change that gives a new row in a log written on change: 0.5W, 20mA or 5%", "CHANGE");
    private readonly Option<string?> _gaps = CommonOptions.OptionalWord("--gaps", "what is done with gaps", StudyWords.GapPolicies);
    private readonly Option<string[]> _accuracy = new("--accuracy")
    {
        Description = "the meter's accuracy from its data sheet, once for each quantity: \"voltage=0.05 % + 2 mV\"",
        HelpName = "QUANTITY=TEXT",
        AllowMultipleArgumentsPerToken = false,
    };

    private readonly Option<bool> _strict = CommonOptions.Strict();

    public void AddTo(Command command)
    {
        foreach (Option option in All)
        {
            command.Options.Add(option);
        }
    }

    private Option[] All => [_point, _told.Columns, _told.Series, _told.Samples, _changeThreshold, _sign, _gaps, _accuracy,
        _told.TimeZone, _told.DateOrder, _told.Interval, _strict];

    /// <summary>Whether strict reading is asked for.</summary>
    public bool IsStrict(ParseResult parse) => parse.GetValue(_strict);

    /// <summary>Refuses what was said about a log where a study file says it itself; how strictly to read is not part of that.</summary>
    /// <exception cref="InputException">Something was said.</exception>
    public void RefuseBesideStudy(ParseResult parse)
    {
        if (All.FirstOrDefault(o => o != _strict && parse.GetResult(o) is { Implicit: false }) is { } option)
        {
            throw new InputException(InputProblem.Usage,
                $"{option.Name} says of a log what the study file says itself; write it there, or leave --study out");
        }
    }

    /// <summary>What was said, as a meter without a name.</summary>
    /// <param name="parse">The command line.</param>
    /// <param name="input">What the log called - is read from.</param>
    public Meter Bind(ParseResult parse, Stream? input)
    {
        var options = _told.Read(parse) with
        {
            Point = parse.GetValue(_point) is { } point ? StudyWords.Point(point) : null,
            Sign = parse.GetValue(_sign) is { } sign ? StudyWords.Sign(sign)!.Value : FlowSign.AsWritten,
            ChangeThreshold = parse.GetValue(_changeThreshold) is { } change ? Threshold(change, parse.GetValue(_told.Samples)) : null,
            Gaps = parse.GetValue(_gaps) is { } gaps ? StudyWords.GapPolicy(gaps)!.Value : GapPolicy.Bridge,
            StandardInput = input,
            Strict = parse.GetValue(_strict),
        };
        var accuracy = MeterAccuracies.Read(AccuracyOf(parse) is { } set ? Setting.Parts(set.Text) : parse.GetValue(_accuracy) ?? [],
            out string? fault);
        return fault is null
            ? new Meter { Name = "command-line", Options = options, Accuracy = accuracy }
            : throw Wrong($"--accuracy is {fault}");
    }

    /// <summary>Reads <c>time,voltage[mV],-,current</c>.</summary>
    /// <exception cref="InputException">A name is not known, or is there twice.</exception>
    internal static Dictionary<LogQuantity, ColumnChoice> ReadColumns(string text)
    {
        var columns = new Dictionary<LogQuantity, ColumnChoice>();
        string[] names = text.Split(',', StringSplitOptions.TrimEntries);
        for (int i = 0; i < names.Length; i++)
        {
            if (names[i] == "-")
            {
                continue;
            }

            int bracket = names[i].IndexOf('[', StringComparison.Ordinal);
            string word = bracket < 0 ? names[i] : names[i][..bracket].TrimEnd();
            string? unit = bracket < 0 ? null : names[i][(bracket + 1)..].TrimEnd(']').Trim();
            var quantity = StudyWords.Quantity(word)
                ?? throw Wrong(
                    $"--columns names \"{names[i]}\" at position {i + 1}; known are {string.Join(", ", StudyWords.Quantities)}, and - to "
                    + $"skip a column");
            if (!columns.TryAdd(quantity, new ColumnChoice(null, i + 1, unit)))
            {
                throw Wrong($"--columns names {word} twice; leave one of them out with -");
            }
        }

        return columns;
    }

    /// <summary>The accuracy that the user has set for any meter; null where this command was given one.</summary>
    public SetValue? AccuracyOf(ParseResult parse) =>
        host is null || parse.GetValue(_accuracy) is { Length: > 0 } ? null : UserSettings.Of(host)[Setting.Accuracy];

    /// <summary>The measurement with a doubt that says that its accuracy is a default.</summary>
    public LogMeasurement WithDoubt(ParseResult parse, LogMeasurement measured) => AccuracyOf(parse) is not { } set
        ? measured
        : measured with
        {
            Doubts = [.. measured.Doubts,
                new(Gravity.Assumed, $"The accuracy {set.Text} was taken from {set.From}; the interval holds only if it is this meter's. "
                    + "--accuracy states another.")],
        };

    private static ChangeThreshold Threshold(string text, string? samples) =>
        ThresholdText.TryParse(text) is not { } threshold ? throw Wrong($"--change-threshold is \"{text}\"; {ThresholdText.Expected}")
        : samples is not null && StudyWords.SampleKind(samples) != SampleKind.OnChange
            ? throw Wrong($"--change-threshold belongs to logs written on change, and --samples says {samples}; leave one of them out")
        : threshold;

    private static InputException Wrong(InvariantText sentence) => new(InputProblem.Usage, sentence.ToStringAndClear());
}

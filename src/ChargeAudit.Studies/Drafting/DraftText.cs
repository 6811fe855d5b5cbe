using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Writes a draft as a study file: what was guessed and what is asked stands in comments, and what nobody knows is left out, never
/// filled in.</summary>
public static class DraftText
{
    /// <summary>The text of the study file.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="next">What to do with the file next, for a line in its head.</param>
    /// <param name="logPath">Turns a log's name into its path as seen from the study file.</param>
    /// <returns>TOML; lines end in a line feed.</returns>
    public static string Write(StudyDraft draft, string next, Func<string, string> logPath)
    {
        ArgumentNullException.ThrowIfNull(draft);
        var text = new Lines();
        text.Add("# A first study of these logs, drafted by chargeaudit.");
        text.Add("# \"guess:\" says what was taken to be so, and why: change what is wrong.");
        text.Add("# \"question:\" asks what no log tells: answer it by taking the # off the line below it and filling it in.");
        text.Add($"# {next}");
        text.Add("");
        text.Remarks(draft.Remarks);
        text.Add($"title = {TomlText.Quoted(draft.Title)}");
        text.Add(draft.Reference is { } reference ? $"reference = {TomlText.Quoted(reference)}" : "# reference = \"?\"");
        text.Add("");
        text.Question("Which device was charged, and what does its battery hold by its label?");
        text.Add("# [device]");
        text.Add("# name = \"?\"");
        text.Add("# battery = \"? Wh\"");
        foreach (var meter in draft.Meters)
        {
            Meter(text, meter);
        }

        foreach (var method in draft.Methods)
        {
            text.Add("");
            text.Remarks(method.Remarks);
            text.Add($"[methods.{TomlText.Key(method.Name)}]");
            text.Add($"kind = \"{KindGuess.Word(method.Kind)}\"");
        }

        text.Add("");
        text.Question("How full was the battery at the start and at the end of each run, in per cent? Runs can be compared only if these "
            + "agree.");
        foreach (var run in draft.Runs)
        {
            Run(text, "runs", run, logPath);
        }

        foreach (var waiting in draft.Standby)
        {
            Run(text, "standby", waiting, logPath);
        }

        Use(text);
        Rest(text, draft);
        return WrittenMarks.Exact(text.ToString());
    }

    private static void Meter(Lines text, DraftMeter meter)
    {
        text.Add("");
        text.Add($"[meters.{meter.Name}]");
        text.Remarks(meter.Remarks);
        text.Add($"point = \"{StudyWords.Of(meter.Point)}\"");
        if (meter.DateOrder is { } order)
        {
            text.Add($"date-order = \"{(order == DateOrder.DayFirst ? "day-first" : "month-first")}\"");
        }

        foreach (string line in ToldText.Lines(meter.Told))
        {
            text.Add(line);
        }

        text.Question(
            "How accurate is this meter by its data sheet (share of the reading + a fixed part)? Without it no figure gets an interval.");
        text.Add($"# accuracy = {{ {string.Join(", ", meter.Quantities.Select(q => $"{q} = \"? % + ? {UnitOf(q)}\""))} }}");
        text.Question(
            "Is a reading taken at an instant, or the average of the time before it? The answer is in the manual; nothing said, the log "
            + "decides.");
        text.Add($"# samples = \"?\"   # {string.Join(", ", StudyWords.SampleKinds)}");
        if (meter.LocalTimes)
        {
            text.Question(
                "In which time zone are its times written? It matters where the clock changes, or where another meter writes "
                + "another zone.");
            text.Add("# timezone = \"?\"   # such as Europe/Lisbon");
        }
    }

    private static void Run(Lines text, string table, DraftRun run, Func<string, string> logPath)
    {
        text.Add("");
        text.Remarks(run.Remarks);

        // A run of no known method cannot be read; it stays in the file for the answer.
        string off = run.Method is null ? "# " : "";
        text.Add($"{off}[[{table}]]");
        text.Add($"{off}method = {TomlText.Quoted(run.Method ?? "?")}");
        string logs = string.Join(", ", run.Logs.OrderBy(l => l.Key).Select(l =>
            $"{StudyWords.Of(l.Key)} = {{ file = {Files(l.Value.Files, logPath)}, meter = {TomlText.Quoted(l.Value.Meter)} }}"));
        text.Add($"{off}logs = {{ {logs} }}");
        if (run.Session is { } session)
        {
            text.Add(InvariantText.Of($"{off}session = {session}"));
        }

        if (table == "runs")
        {
            text.Add("# start-charge = ?");
            text.Add("# end-charge = ?");
        }
    }

    private static void Use(Lines text)
    {
        var use = new Use();
        text.Add("");
        text.Question(
            Prose.Of(
                $"How is the charger used? Unanswered, {use.ChargesPerWeek:0} full charges a week are taken, the device taken off when "
            + $"full, the charger left in the socket."));
        text.Add("# [use]");
        text.Add("# charges-per-week = ?");
        text.Add("# charge-share = ?                   # % of a full charge that a usual charge gives");
        text.Add("# hours-on-charger-per-charge = ?    # after which the device is taken off");
        text.Add("# plugged-in-all-day = ?             # true or false");
        text.Add("");
        text.Question("What does a kilowatt-hour cost? Unanswered, no cost is worked out.");
        text.Add("# [tariff]");
        text.Add("# currency = \"?\"                     # ISO 4217, such as EUR");
        text.Add("# price = ?                          # per kWh");
    }

    private static void Rest(Lines text, StudyDraft draft)
    {
        if (draft.PassedOver.Count == 0)
        {
            return;
        }

        text.Add("");
        text.Add(InvariantText.Of($"# Not in this study ({draft.PassedOver.Count}):"));
        foreach (var file in draft.PassedOver)
        {
            text.Comment($"{file.File}: {file.Why}");
        }
    }

    private static string Files(IReadOnlyList<string> files, Func<string, string> logPath) =>
        files.Count == 1 ? TomlText.Quoted(logPath(files[0])) : $"[{string.Join(", ", files.Select(f => TomlText.Quoted(logPath(f))))}]";

    private static string UnitOf(string quantity) => quantity switch
    {
        "voltage" => "mV",
        "current" => "mA",
        "energy" => "mWh",
        "power-factor" => "",
        _ => "mW",
    };

    private sealed class Lines
    {
        private readonly StringBuilder _text = new();

        public void Add(string line) => _text.Append(line).Append('\n');

        public void Question(string sentence) => Comment($"question: {sentence}");

        public void Remarks(IEnumerable<DraftRemark> remarks)
        {
            foreach (var remark in remarks)
            {
                Comment($"{(remark.Kind == RemarkKind.Guess ? "guess" : "question")}: {remark.Text}");
            }
        }

        // A file's name may hold a line break, and a comment ends there.
        public void Comment(string text) =>
            Add($"# {string.Concat(text.Select(c => char.IsControl(c) || char.IsSurrogate(c) || c is '\u2028' or '\u2029' ? ' ' : c))}");

        public override string ToString() => _text.ToString();
    }
}

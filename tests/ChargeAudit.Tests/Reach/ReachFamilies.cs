using System.Globalization;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ChargeAudit.Checking;
using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Page;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Tables;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Csv;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.JUnit;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;
using Microsoft.AspNetCore.Http;

namespace ChargeAudit.Tests.Reach;

/// <summary>Every kind of input that the program takes, each by the way that a user's input goes.</summary>
public sealed class ReachFamilies : IDisposable
{
    private static readonly byte[] Metadata =
        ReachSeeds.Bytes(
            "{\"@context\":\"http://www.w3.org/ns/csvw\",\"url\":\"told.csv\",\"dialect\":{\"delimiter\":\",\",\"header\":true,"
                + "\"headerRowCount\":1,\"skipRows\":0,\"quoteChar\":\"\\\"\",\"commentPrefix\":\"#\"},"
        + "\"tableSchema\":{\"columns\":[{\"titles\":\"time "
            + "(s)\",\"name\":\"t\"},{\"titles\":[\"U\"],\"unit\":\"V\"},{\"titles\":{\"en\":[\"I\"]},\"unitCode\":\"A\","
            + "\"datatype\":{\"base\":\"number\",\"format\":{\"decimalChar\":\".\",\"groupChar\":\",\"}}}]}}");

    private static readonly byte[] Said =
        ReachSeeds.Bytes(
            "{\"logs\":[{\"id\":\"ID0\",\"kind\":\"wired\",\"point\":\"usb\"},{\"id\":\"ID1\",\"kind\":\"inductive\","
                + "\"point\":\"usb\"}],\"price\":0.31,\"currency\":\"EUR\",\"chargesPerWeek\":7,\"hoursOnCharger\":8}");

    private static readonly CheckRules Rules = new() { Margin = 0.02 };

    private readonly string _folder;
    private readonly bool _keeps;
    private readonly PageSession _session;
    private readonly PageHandlers _page;
    private readonly MeasuredDesign _candidate;
    private readonly string[] _ids;

    /// <summary>Makes the sound files that inputs stand beside.</summary>
    /// <param name="folder">Folder to work in; made where it is missing.</param>
    /// <param name="keeps">Whether the sound files stay when this is disposed of.</param>
    public ReachFamilies(string folder, bool keeps = false)
    {
        _folder = folder;
        _keeps = keeps;
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(In("told.csv"), ReachSeeds.Texts[0]);
        byte[] summary = SummaryOf(In("told.csv"));
        byte[] baseline = ReachSeeds.Bytes(ResultsJson.Audit(Audited(5.37)));
        _candidate = AuditDesign.Of(Audited(5));
        File.WriteAllBytes(In("baseline.json"), baseline);
        File.WriteAllText(In("study.toml"), Studies[0]);
        File.WriteAllText(In("places.toml"), Studies[1]);
        var check = Checker.Run(_candidate, BaselineReader.Read("baseline.json", baseline), Rules);
        string entry = HistoryLine(check);
        _session = new PageSession(PageLimits.Usual, TimeProvider.System);
        _page = new PageHandlers(new PageGate("token", 1), _session);
        _ids = [Take("cable-1.csv"), Take("pad-1.csv")];
        byte[] said = ReachSeeds.Bytes(Encoding.UTF8.GetString(Said).Replace("ID0", _ids[0], StringComparison.Ordinal)
            .Replace("ID1", _ids[1], StringComparison.Ordinal));
        All =
        [
            new("text", 6, ReachFamily.Mutations(ReachSeeds.Texts), b => Measured("log.csv", b)),
            new("packed text", 1, d => ReachSeeds.Packed(Mutator.Change(ReachSeeds.Texts[0], ReachSeeds.Texts[1], d)),
                b => Measured("log.csv.gz", b)),
            new("interval XML", 3, ReachFamily.Mutations(ReachSeeds.Intervals), b => Measured("log.xml", b)),
            new("workbook", 3, ReachSeeds.Workbook, b => Measured("log.xlsx", b)),
            new("open document", 1, d => ReachSeeds.Repacked(ReachSeeds.Documents[^1], d), b => Measured("log.ods", b)),
            new("Parquet", 4, ReachSeeds.Parquet, b => Measured("log.parquet", b)),
            new("summary", 3, d => d.Chance(0.4) ? Mutator.Change(summary, summary, d) : ParquetMutator.Change(summary, d),
                b => Measured("log.summary.parquet", b)),
            new("JSON", 2, ReachFamily.Mutations(ReachSeeds.Jsons), b => Measured("log.json", b)),
            new("database", 1, ReachFamily.Mutations(ReachSeeds.Databases), b => Measured("log.db", b)),
            new("archive", 1, ReachFamily.Mutations(ReachSeeds.Archives), b => Measured("log.zip", b)),
            new("table metadata", 2, ReachFamily.Mutations(Metadata), OfMetadata),
            new("study", 2, ReachFamily.Mutations([.. Studies.Select(ReachSeeds.Bytes)]), OfStudy),
            new("scenario", 1, ReachFamily.Mutations(ReachSeeds.Bytes(ReachScenario.Text)), OfScenario),
            new("history", 2, ReachFamily.Mutations(ReachSeeds.Bytes(entry + "\n" + entry + "\n" + entry + "\n")),
                b => OfHistory(b, check)),
            new("baseline", 2, ReachFamily.Mutations(baseline), OfBaseline),
            new("page's answers", 1, ReachFamily.Mutations(said), b => OfPage("make", null, b)),
            new("page's uploads", 1, ReachFamily.Mutations(ReachSeeds.Texts), OfUpload),
        ];
    }

    /// <summary>The families.</summary>
    public IReadOnlyList<ReachFamily> All { get; }

    /// <inheritdoc/>
    public void Dispose()
    {
        _session.Dispose();
        if (!_keeps)
        {
            Directory.Delete(_folder, recursive: true);
        }
    }

    private static string StudyText => Studies[0];

    private static readonly string[] Studies =
    [
        "title = \"Two ways\"\nreference = \"cable\"\n[device]\nname = \"P1\"\nbattery = \"15 Wh\"\n[meters.bench]\npoint = \"usb\"\n"
            + "accuracy = { voltage = \"0.05 % + 2 mV\", current = \"0.1 % + 1 mA\" }\nsamples = \"instantaneous\"\n"
            + "[methods.cable]\nkind = \"wired\"\n[methods.pad]\nkind = \"inductive\"\n" + Runs("")
            + "[use]\ncharges-per-week = 7\ncharge-share = 60\nhours-on-charger-per-charge = 8\nplugged-in-all-day = true\n[tariff]\n"
                + "currency = \"EUR\"\nprice = 0.31\n[check]\nmargin = \"2 %\"\n",
        "title = \"Places\"\n[meters.bench]\npoint = \"usb\"\naccuracy = { power = \"1 % + 10 mW\" }\n[methods.cable]\nkind = \"wired\"\n"
            + "[methods.pad]\nkind = \"inductive\"\n"
            + Runs("factors = { offset-x = \"4 mm\", gap = \"3 mm\", temperature = \"23 °C\", case = \"none\" }\nfrom = 0\nto = 190\n")
                + "[placement]\nrise = \"5 %\"\n[use]\ncharges-per-week = 3.5\n",
    ];

    private static string Runs(string more) => string.Concat(new[] { "cable", "pad" }.SelectMany(m => new[] { 1, 2 }.Select(n =>
        $"[[runs]]\nmethod = \"{m}\"\nlogs = {{ usb = {{ file = \"{m}-{n}.csv\", meter = \"bench\" }} }}\nstart-charge = 5\nend-charge = "
            + $"100\n{more}")));

    private AuditResult Audited(double powerW)
    {
        Charge("cable-1.csv", powerW);
        Charge("cable-2.csv", powerW + 0.1);
        Charge("pad-1.csv", powerW + 2.5);
        Charge("pad-2.csv", powerW + 2.6);
        return Auditor.Run(StudyReader.Read("study.toml", StudyText, _folder), new AuditOptions { ProgramVersion = "" });
    }

    private void Charge(string name, double powerW) =>
        File.WriteAllText(In(name), "time (s),U (V),I (A)\n"
        + ReachSeeds.Rows(200, i => $"{i},5.00{i % 10},{(i < 150 ? powerW / 5 : 0.01) + (i % 7 * 0.001):0.000}"));

    private string In(string name) => Path.Combine(_folder, name);

    private byte[] SummaryOf(string log)
    {
        var read = LogReading.Of(new MeasureRequest
        {
            Paths = [log],
            Summaries = new SummaryFolder(_folder, "1", (path, bytes) => File.WriteAllBytes(path, bytes)),
        });
        string path = Directory.GetFiles(_folder, $"{Path.GetFileName(log)}*{SummaryFile.Ending}").Single();
        byte[] bytes = File.ReadAllBytes(path);
        File.Delete(path);
        return read.From is null ? bytes : throw new InvalidOperationException("the log was not read");
    }

    private string Measured(string name, byte[] bytes)
    {
        File.WriteAllBytes(In(name), bytes);
        return Run("measure", In(name), "--format", "json") + Run("inspect", In(name));
    }

    private string OfMetadata(byte[] bytes)
    {
        File.WriteAllBytes(In("told.csv-metadata.json"), bytes);
        return Run("measure", In("told.csv"), "--format", "json");
    }

    private string OfStudy(byte[] bytes)
    {
        var audit = Auditor.Run(StudyReader.Read("study.toml", Encoding.UTF8.GetString(bytes), _folder), new AuditOptions
        {
            ProgramVersion = "",
            Clock = new Still(),
        });
        return Json(ResultsJson.Audit(audit)) + TableCsv.Text(SessionTable.Of(audit));
    }

    private static string OfScenario(byte[] bytes)
    {
        var scenario = SimulationScenario.Parse(Encoding.UTF8.GetString(bytes));
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var file in StudyWriter.Files(Simulator.Run(scenario, scenario.Seed)))
        {
            string text = file.Name.EndsWith(".json", StringComparison.Ordinal) ? Json(file.Text) : file.Text;
            hash.AppendData(MemoryMarshal.AsBytes(text.AsSpan()));
        }

        return "0 " + Convert.ToHexString(hash.GetHashAndReset());
    }

    private string OfHistory(byte[] bytes, CheckResult check)
    {
        File.WriteAllBytes(In("history.jsonl"), bytes);
        var appended = HistoryFile.Append(In("history.jsonl"), HistoryEntry.Of(check, DateTimeOffset.UnixEpoch), TimeSpan.FromSeconds(1),
            TimeProvider.System);
        var series = DriftTest.Series(appended.Entries, (_, _) => 0.02);
        return Json(CheckJson.Of(Checker.WithDrifts(check, [.. series.Select(s => s.Finding)])));
    }

    private string OfBaseline(byte[] bytes)
    {
        var result = Checker.Run(_candidate, BaselineReader.Read("baseline.json", bytes), Rules);
        return Json(CheckJson.Of(result)) + CheckJUnit.Of(result);
    }

    private string OfUpload(byte[] bytes)
    {
        string answer = OfPage("log", "a.csv", bytes);
        OfPage("clear", null, []);
        Take("cable-1.csv");
        Take("pad-1.csv");
        return answer.Length < 20 ? answer : answer[..20];
    }

    private string OfPage(string path, string? name, byte[] body)
    {
        var context = new DefaultHttpContext();
        context.Request.Method = "POST";
        context.Request.Path = $"/token/{path}";
        context.Request.Host = new HostString("127.0.0.1:1");
        context.Request.Body = new MemoryStream(body);
        if (name is not null)
        {
            context.Request.Headers["X-File-Name"] = name;
        }

        using var to = new MemoryStream();
        context.Response.Body = to;
        _page.AnswerAsync(context).GetAwaiter().GetResult();
        string text = Encoding.UTF8.GetString(to.ToArray());
        return context.Response.StatusCode == 500
            ? throw new InvalidOperationException(text)
            : $"{context.Response.StatusCode} {Json(text)}";
    }

    private string Take(string name)
    {
        var state = _session.TakeAsync(name, null, new MemoryStream(File.ReadAllBytes(In(name))), CancellationToken.None).GetAwaiter()
            .GetResult();
        return state.Logs[^1].Id;
    }

    private static string HistoryLine(CheckResult check)
    {
        string path = Path.GetTempFileName();
        HistoryFile.Append(path, HistoryEntry.Of(check, DateTimeOffset.UnixEpoch), TimeSpan.FromSeconds(1), TimeProvider.System);
        string line = File.ReadAllText(path).TrimEnd('\n');
        File.Delete(path);
        return line;
    }

    private static string Run(params string[] arguments)
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        using var error = new StringWriter(CultureInfo.InvariantCulture);
        int status = Task.Run(() => ChargeAuditProgram.RunAsync(arguments, new CliHost { Output = output, Error = error })).GetAwaiter()
            .GetResult();
        string text = output.ToString();
        if (status == ExitStatus.ProgramFault)
        {
            throw new InvalidOperationException(error.ToString());
        }

        if ((text + error).FirstOrDefault(c => char.IsControl(c) && c is not ('\n' or '\r')) is var control and not '\0')
        {
            throw new InvalidOperationException(InvariantText.Of($"a raw U+{(int)control:X4} is printed"));
        }

        return status.ToString(CultureInfo.InvariantCulture) + (arguments[0] == "measure" ? Json(text) : text);
    }

    // JSON cannot write NaN or an infinity, so parsing refuses a document that holds one.
    private static string Json(string text)
    {
        using var document = JsonDocument.Parse(text);
        return text;
    }

    private sealed class Still : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => DateTimeOffset.UnixEpoch;
    }
}

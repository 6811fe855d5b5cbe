using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies.Drafting;

/// <summary>What a folder holds: what may be a log, what is a study, and the rest with its reason. Its sub-folders are looked into, one
/// level deep.</summary>
/// <param name="Folder">The folder, as named.</param>
/// <param name="Logs">Files that may be logs, relative to it, with forward slashes, in the order of names.</param>
/// <param name="Studies">Study files in the folder itself.</param>
/// <param name="PassedOver">All other files, each with the reason.</param>
public sealed record FolderFiles(string Folder, IReadOnlyList<string> Logs, IReadOnlyList<string> Studies,
    IReadOnlyList<PassedOver> PassedOver)
{
    /// <summary>More logs than this are not a household's or a reviewer's folder, but the wrong one.</summary>
    public const int MostLogs = 400;

    private static readonly string[] LogEndings = [".csv", ".tsv", ".txt", ".log", ".dat", ".gz", ".xlsx", ".xls", ".parquet", ".xml",
        ".ods", ".json", ".jsonl", ".ndjson", ".zip", ".zst", ".db", ".sqlite", ".sqlite3"];

    /// <summary>Whether logs may end so.</summary>
    /// <param name="ending">The ending with its point, such as <c>.csv</c>.</param>
    public static bool IsLogEnding(string ending) => Array.Exists(LogEndings, e => e.Equals(ending, StringComparison.OrdinalIgnoreCase));

    /// <summary>Looks into a folder; opens only study files.</summary>
    /// <param name="folder">The folder.</param>
    /// <exception cref="InputException">There is no such folder, it cannot be read, or it holds too many files.</exception>
    public static FolderFiles Find(string folder)
    {
        if (!Directory.Exists(folder))
        {
            throw new InputException(InputProblem.Missing, File.Exists(folder)
                ? $"{folder} is a file, and a folder of logs was expected; name the folder that it stands in"
                : $"{folder}: there is no such folder; check its name");
        }

        List<string> logs = [], studies = [];
        List<PassedOver> rest = [];
        try
        {
            foreach (string file in Directory.EnumerateFiles(folder))
            {
                Sort(Path.GetFileName(file), file, logs, studies, rest);
            }

            foreach (string inner in Directory.EnumerateDirectories(folder))
            {
                Inner(inner, logs, rest);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing,
                $"{folder} cannot be read ({e.Message.TrimEnd('.')}); check that you may open it", e);
        }

        if (logs.Count > MostLogs)
        {
            throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"{folder} holds {logs.Count} files that may be logs, and at most {MostLogs} were expected; name the folder that holds the "
                    + $"logs of one comparison"));
        }

        logs.Sort(StringComparer.Ordinal);
        studies.Sort(StringComparer.Ordinal);
        rest.Sort((a, b) => StringComparer.Ordinal.Compare(a.File, b.File));
        return new FolderFiles(folder, logs, studies, rest);
    }

    private static void Inner(string inner, List<string> logs, List<PassedOver> rest)
    {
        string name = Path.GetFileName(inner);
        if (name.StartsWith('.'))
        {
            return;
        }

        if (File.Exists(Path.Combine(inner, "results.json")) && File.Exists(Path.Combine(inner, "report.html")))
        {
            rest.Add(new PassedOver($"{name}/", "it is the report of an audit") { IsOurs = true });
            return;
        }

        foreach (string file in Directory.EnumerateFiles(inner))
        {
            Sort($"{name}/{Path.GetFileName(file)}", file, logs, null, rest);
        }

        foreach (string deeper in Directory.EnumerateDirectories(inner))
        {
            rest.Add(
                new PassedOver($"{name}/{Path.GetFileName(deeper)}/", "folders are looked into one level deep; name that folder itself"));
        }
    }

    private static void Sort(string name, string path, List<string> logs, List<string>? studies, List<PassedOver> rest)
    {
        string ending = Path.GetExtension(name);
        if (Path.GetFileName(name).StartsWith('.'))
        {
            return;
        }

        if (ending.Equals(".toml", StringComparison.OrdinalIgnoreCase))
        {
            if (studies is not null && IsStudy(name, path))
            {
                studies.Add(name);
            }
            else
            {
                rest.Add(new PassedOver(name, studies is null
                    ? "a study file is looked for in the folder itself only"
                    : "it is no study file: it has no [[runs]] with logs"));
            }
        }
        else if (name.EndsWith("-metadata.json", StringComparison.OrdinalIgnoreCase))
        {
            rest.Add(new PassedOver(name, "it describes the columns of a log and is read with that"));
        }
        else if (IsLogEnding(ending))
        {
            logs.Add(name);
        }
        else
        {
            rest.Add(new PassedOver(name, ending.Length > 1
                ? $"its ending {ending} is not that of a log"
                : "it has no ending, and logs end in .csv, .txt, .xlsx or the like"));
        }
    }

    // A damaged study file is still one if it is called so: its own error is what the user must hear of.
    private static bool IsStudy(string name, string path)
    {
        try
        {
            var document = new TomlTableReader(name, "", TomlNode.Parse(name, File.ReadAllText(path)));
            return document.ListOfTables("runs").Any(r => r.Has("logs"));
        }
        catch (InputException)
        {
            return name == "study.toml";
        }
    }
}

using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Folders;

/// <summary>What was named to be audited: one study or folder, or logs.</summary>
internal static class NamedFiles
{
    /// <summary>Standard input.</summary>
    public const string StandardInput = "-";

    private static readonly string[] LogEndings = [".csv", ".txt", ".xlsx"];

    /// <summary>The names; wildcards that the shell has left are expanded here.</summary>
    /// <exception cref="InputException">No file has such a name, or what was named does not go together.</exception>
    public static string[] Of(string[] named)
    {
        string[] files = [.. named.SelectMany(Matching)];
        if (files.Length < 2)
        {
            return files.Length == 1 && IsLog(files[0]) ? throw OneLog(files[0]) : files;
        }

        if (Array.Find(files, f => !IsLog(f) && f != StandardInput) is { } other)
        {
            throw new InputException(
                InputProblem.Usage,
                $"{other} was named beside {files.First(f => f != other)}; name one study file, one folder, or logs alone "
                    + $"({string.Join(", ", LogEndings)} and the like)");
        }

        return Array.IndexOf(files, StandardInput) >= 0
            ? throw new InputException(InputProblem.Usage, "- reads a study from standard input and stands alone; leave the other names "
                + "out")
            : files;
    }

    /// <summary>Whether they are logs; then there are two or more.</summary>
    public static bool AreLogs(IReadOnlyList<string> files) => files.Count > 1;

    /// <summary>The study that standard input holds; paths in it start from the current folder.</summary>
    /// <exception cref="InputException">There is no input, or it is not a study.</exception>
    public static (Study Study, string Sha256) StudyFrom(Stream? input)
    {
        if (input is null)
        {
            throw new InputException(InputProblem.Missing, "standard input is not connected; name a study file");
        }

        using var bytes = new MemoryStream();
        input.CopyTo(bytes);
        string text = System.Text.Encoding.UTF8.GetString(bytes.ToArray()).TrimStart('\uFEFF');
        return (StudyReader.Read("standard input", text, Environment.CurrentDirectory),
            FileHash.Sha256(bytes.ToArray()));
    }

    private static InputException OneLog(string log)
    {
        string folder = Path.GetDirectoryName(log) is { Length: > 0 } above ? above : ".";
        return new InputException(
            InputProblem.Usage,
            $"{log} is one log, and a comparison needs at least one by cable and one on a pad; chargeaudit audit {folder} compares all "
                + "logs "
                + $"of its folder, chargeaudit audit {log} OTHER.csv compares these, and chargeaudit measure {log} gives its energy alone");
    }

    private static bool IsLog(string path) => !Directory.Exists(path) && FolderFiles.IsLogEnding(Path.GetExtension(path));

    private static IEnumerable<string> Matching(string name)
    {
        if (name.IndexOfAny(['*', '?']) < 0 || File.Exists(name))
        {
            return [name];
        }

        string folder = Path.GetDirectoryName(name) is { Length: > 0 } above ? above : ".";
        string[] found = Directory.Exists(folder)
            ? [.. Directory.GetFiles(folder, Path.GetFileName(name))
                .Select(f => Path.Combine(Path.GetDirectoryName(name) ?? "", Path.GetFileName(f))).Order(StringComparer.Ordinal)]
            : [];
        return found.Length > 0
            ? found
            : throw new InputException(InputProblem.Missing, $"{name}: no file has such a name; check the folder and the ending");
    }
}

namespace ChargeAudit.EndToEnd.Documented;

/// <summary>The files that the documents' commands name, as a reader would have them: made once, copied for each document.</summary>
public sealed class DocumentedFiles : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public DocumentedFiles()
    {
        string root = _folder.Path;
        string sample = Repository.SampleLogs;
        Copy(sample, root);
        Copy(sample, Path.Combine(root, "sample-logs"));
        Copy(sample, Path.Combine(root, "baseline"));
        Copy(Path.Combine(Repository.Root, "docs"), Path.Combine(root, "docs"), "*.toml");
        Copy(Path.Combine(Repository.Root, "docs", "scenarios"), Path.Combine(root, "docs", "scenarios"));
        Copy(sample, Path.Combine(root, "logs"), "*.csv");
        foreach (var (log, names) in new[]
        {
            ("pad-1-wall.csv", new[] { "my-log.csv", "log.csv", "p1.csv" }), ("pad-2-wall.csv", ["p2.csv"]),
            ("cable-1-wall.csv", ["c1.csv"]), ("cable-2-wall.csv", ["c2.csv"]), ("study.toml", ["my-study.toml"]),
        })
        {
            foreach (string name in names)
            {
                File.Copy(Path.Combine(sample, log), Path.Combine(root, name));
            }
        }

        // Other runs with the same meters, so that one can be checked against the other.
        Done("simulate", "--seed", "2", "--meter-seed", "20260302", "--out", "candidate");
        Done("audit", "candidate/study.toml", "--out", "reports/candidate", "--quiet");
        Done("audit", "sample-logs/study.toml", "--out", "reports/sample", "--quiet");
        File.Copy(Path.Combine(root, "reports", "candidate", "results.json"), Path.Combine(root, "results.json"));
    }

    public void Dispose() => _folder.Dispose();

    /// <summary>A copy of all of them.</summary>
    internal void CopyTo(string folder)
    {
        Copy(_folder.Path, folder);
        foreach (string inner in Directory.GetDirectories(_folder.Path, "*", SearchOption.AllDirectories))
        {
            Copy(inner, Path.Combine(folder, Path.GetRelativePath(_folder.Path, inner)));
        }
    }

    private void Done(params string[] arguments)
    {
        var run = Run.In(_folder.Path, arguments);
        Assert.True(run.Status == 0, $"{string.Join(' ', arguments)}: {run.Error}");
    }

    private static void Copy(string from, string to, string pattern = "*")
    {
        Directory.CreateDirectory(to);
        foreach (string file in Directory.GetFiles(from, pattern))
        {
            File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
        }
    }
}

namespace ChargeAudit.EndToEnd;

/// <summary>A folder of one test's own, gone when the test ends.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    public string File(string name, string content)
    {
        string path = System.IO.Path.Combine(Path, name);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        System.IO.File.WriteAllText(path, content);
        return path;
    }

    public string File(string name, byte[] content)
    {
        string path = System.IO.Path.Combine(Path, name);
        System.IO.File.WriteAllBytes(path, content);
        return path;
    }

    /// <summary>A copy of the sample study.</summary>
    public string SampleLogs()
    {
        foreach (string file in Directory.GetFiles(Repository.SampleLogs))
        {
            System.IO.File.Copy(file, System.IO.Path.Combine(Path, System.IO.Path.GetFileName(file)));
        }

        return System.IO.Path.Combine(Path, "study.toml");
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

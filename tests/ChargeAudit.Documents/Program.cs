using ChargeAudit.Documents;

// Writes the documents that are made and not written: dotnet run --project tests/ChargeAudit.Documents
string root = args.Length > 0 ? args[0] : GeneratedDocuments.RepositoryAbove(AppContext.BaseDirectory);
foreach (var (path, text) in GeneratedDocuments.All(root))
{
    string target = Path.Combine(root, path);
    if (!File.Exists(target) || File.ReadAllText(target) != text)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(target)!);
        File.WriteAllText(target, text);
        Console.WriteLine(path);
    }
}

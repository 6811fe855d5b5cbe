using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>What is published is locked apart from the ordinary build, and must not fall behind it: nothing else restores it.</summary>
public sealed class PackageLocksTests
{
    private const string Framework = "net10.0";
    private static readonly string[] Expected =
        ["packages.native.linux-arm64.lock.json", "packages.native.linux-x64.lock.json", "packages.single-file.lock.json"];

    private static readonly string[] Tools = ["Microsoft.DotNet.ILCompiler", "Microsoft.NET.ILLink.Tasks"];

    private static string Cli => Path.Combine(Repository.Root, "src", "ChargeAudit.Cli");

    [Fact]
    public void Every_lock_of_a_published_program_holds_what_the_build_locks_and_tools_besides()
    {
        var build = Locked("packages.lock.json");
        string[] published = [.. Directory.GetFiles(Cli, "packages.*.lock.json").Select(f => Path.GetFileName(f)).Order()];
        Assert.Empty(Expected.Except(published));
        foreach (string name in published)
        {
            var own = Locked(name);
            Assert.All(build, p => Assert.True(own.TryGetValue(p.Key, out var locked) && JsonElement.DeepEquals(p.Value, locked),
                $"{name} locks another {p.Key}; publish once without CI=true and look at the difference"));
            Assert.Empty(own.Keys.Except(build.Keys).Except(Tools));
        }
    }

    private static Dictionary<string, JsonElement> Locked(string name)
    {
        using var document = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(Cli, name)));
        return document.RootElement.GetProperty("dependencies").GetProperty(Framework).EnumerateObject()
            .ToDictionary(p => p.Name, p => p.Value.Clone(), StringComparer.Ordinal);
    }
}

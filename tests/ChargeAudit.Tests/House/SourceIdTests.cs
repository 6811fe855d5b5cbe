using System.Text.RegularExpressions;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.House;

/// <summary>The id of an uncertainty source is text for people: a file may be called anything, so nothing is read out of it.</summary>
public sealed partial class SourceIdTests
{
    [Fact]
    public void Nothing_is_read_out_of_the_id_of_a_source()
    {
        string[] sources = [.. Directory.EnumerateFiles(Golden.RepositoryFile("src"), "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))];
        Assert.Contains(sources, f => File.ReadAllText(f).Contains("Source.Id", StringComparison.Ordinal));
        Assert.Empty(sources.SelectMany(f => Parsed().Matches(File.ReadAllText(f)).Select(m => $"{Path.GetFileName(f)}: {m.Value}")));
    }

    // Both logs have a name that looks like a part of another source.
    [Fact]
    public void A_file_of_any_name_is_no_contradiction_of_a_counter()
    {
        var named = Measured.From(5, "Wh",
            [new(InfluenceSource.OfLog("counter-contradicts", SourceKind.Other, "noise"), 0.1),
                new(new InfluenceSource("log/counter-contradicts"), 0.1)]);
        Assert.False(ChargeAudit.Measuring.CounterChoice.Contradicts(named));
    }

    [GeneratedRegex(@"\bSource\.Id(\.\w+\(|\s*(==|!=|is\b)|\[)")]
    private static partial Regex Parsed();
}

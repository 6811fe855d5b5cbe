using System.Globalization;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs;

/// <summary>Odd files of our own making, each with what must come of it: expected.tsv was written down together with the files.</summary>
public sealed class CorpusTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Logs", "Corpus");

    public static TheoryData<string, long?, long?, double?, string> Files()
    {
        var data = new TheoryData<string, long?, long?, double?, string>();
        foreach (string[] row in File.ReadAllLines(Path.Combine(Folder, "expected.tsv")).Skip(1).Select(l => l.Split('\t')))
        {
            data.Add(row[0], Long(row[1]), Long(row[2]), row[3].Length > 0
                ? double.Parse(row[3], CultureInfo.InvariantCulture)
                : null, row[4]);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Every_odd_file_is_read_or_refused_as_written_down(string file, long? rows, long? skipped, double? lastS, string refusal)
    {
        string path = Path.Combine(Folder, file);
        if (rows is null)
        {
            InputException refused = Assert.Throws<InputException>(() => LogText.FromFile(path));
            Assert.Contains(refusal, refused.Message, StringComparison.Ordinal);
            Assert.DoesNotContain('\n', refused.Message);
            return;
        }

        LogText.Read read = LogText.FromFile(path);
        Assert.Equal(rows, read.Outcome.Rows);
        Assert.Equal(lastS!.Value, read.Samples[^1].TimeS, 1e-6);
        if (skipped is not null)
        {
            Assert.Equal(skipped, read.Outcome.RowsSkipped);
        }
    }

    [Fact]
    public void The_corpus_is_complete()
    {
        string[] written = [.. File.ReadAllLines(Path.Combine(Folder, "expected.tsv")).Skip(1).Select(l => l.Split('\t')[0])
            .Order(StringComparer.Ordinal)];
        string[] there = [.. Directory.GetFiles(Folder).Select(f => Path.GetFileName(f))
            .Where(f => f is not ("expected.tsv" or ".gitattributes")).Order(StringComparer.Ordinal)];

        Assert.Equal(written, there);
        Assert.True(there.Length >= 160, "the corpus holds at least 160 files");
    }

    private static long? Long(string text) => text.Length > 0 && text != "None" ? long.Parse(text, CultureInfo.InvariantCulture) : null;
}

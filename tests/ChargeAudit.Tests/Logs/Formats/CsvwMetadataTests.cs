using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Table metadata beside a log.</summary>
public sealed class CsvwMetadataTests
{
    private const string Metadata = """
        { "@context": "http://www.w3.org/ns/csvw", "url": "log.csv", "dialect": { "header": false, "delimiter": "|" },
          "tableSchema": { "columns": [
            { "titles": "time", "unit": "s" },
            { "name": "voltage", "unit": "V" },
            { "titles": ["current", "I"], "qudt:unitCode": "mA" } ] } }
        """;

    [Fact]
    public void Titles_units_and_separator_come_from_the_metadata()
    {
        LogText.Read read = Read("0|5|900\n1|5|901\n2|5|902\n", "log.csv-metadata.json", Metadata);

        Assert.Equal([0.0, 1, 2], read.Samples.Select(s => s.TimeS));
        Assert.Equal(0.902, read.Samples[^1].CurrentA, 1e-12);
        Assert.Contains(read.Layout.Notes, n => n.Contains("log.csv-metadata.json", StringComparison.Ordinal));
    }

    [Fact]
    public void Units_hold_where_the_log_has_a_header_without_any()
    {
        LogText.Read read = Read("time,voltage,current\n0,5,900\n1,5,901\n", "csv-metadata.json", Metadata.Replace("\"delimiter\": \"|\"", "\"delimiter\": \",\"", StringComparison.Ordinal));

        Assert.Equal(0.901, read.Samples[^1].CurrentA, 1e-12);
        Assert.Equal(2, read.Outcome.Rows);
    }

    [Fact]
    public void Metadata_of_another_file_are_not_used() =>
        Assert.Throws<InputException>(() => Read("0|5|900\n1|5|901\n", "csv-metadata.json", Metadata.Replace("log.csv", "other.csv", StringComparison.Ordinal)));

    [Fact]
    public void Damaged_metadata_are_refused()
    {
        InputException refused = Assert.Throws<InputException>(() => Read("0|5|900\n1|5|901\n", "csv-metadata.json", "{ \"url\": "));

        Assert.Contains("csv-metadata.json stands beside a log and is no valid table metadata (", refused.Message, StringComparison.Ordinal);
        Assert.EndsWith("correct it or take it away.", refused.Message, StringComparison.Ordinal);
    }

    private static LogText.Read Read(string log, string metadataName, string metadata)
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, metadataName), metadata);
            File.WriteAllText(Path.Combine(folder, "log.csv"), log);
            return LogText.FromFile(Path.Combine(folder, "log.csv"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}

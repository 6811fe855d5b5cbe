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
        LogText.Read read = Read("time,voltage,current\n0,5,900\n1,5,901\n", "csv-metadata.json",
            Metadata.Replace("\"delimiter\": \"|\"", "\"delimiter\": \",\"", StringComparison.Ordinal));

        Assert.Equal(0.901, read.Samples[^1].CurrentA, 1e-12);
        Assert.Equal(2, read.Outcome.Rows);
    }

    [Fact]
    public void Lines_to_skip_number_signs_and_the_order_of_dates_come_from_the_metadata()
    {
        // Each could be read the other way: 1,234 as a thousand, 04/03 as the 3rd of April, and the first line as a header.
        const string log =
            "time;voltage;current\n04/03/2031 08:00:00;5,001;1,234\n04/03/2031 08:00:01;5,002;1,235\n04/03/2031 08:00:02;5,003;1,236\n";
        const string metadata = """
            { "url": "log.csv", "dialect": { "delimiter": ";", "skipRows": 1, "headerRowCount": 0, "quoteChar": "'", "commentPrefix": "!" },
              "tableSchema": { "columns": [
                { "titles": "time", "datatype": { "base": "datetime", "format": "dd/MM/yyyy HH:mm:ss" } },
                { "titles": "voltage", "unit": "V", "datatype": { "base": "decimal", "format": { "decimalChar": "," } } },
                { "titles": "current", "unit": "A" } ] } }
            """;

        LogText.Read read = Read(log, "log.csv-metadata.json", metadata);

        Assert.Equal([1.234, 1.235, 1.236], read.Samples.Select(s => s.CurrentA));
        Assert.Equal(new DateTime(2031, 3, 4, 8, 0, 0), read.Layout.Start!.Value.DateTime);
        Assert.Null(read.Layout.Dialect!.HeaderLine);
        Assert.Contains(read.Layout.Notes, n => n.Contains("names \"'\" as the quotation mark", StringComparison.Ordinal));
        Assert.Contains(read.Layout.Notes, n => n.Contains("comments begin with \"!\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Metadata_of_another_file_are_not_used() =>
        Assert.Throws<InputException>(() =>
            Read("0|5|900\n1|5|901\n", "csv-metadata.json", Metadata.Replace("log.csv", "other.csv", StringComparison.Ordinal)));

    [Fact]
    public void Damaged_metadata_are_refused()
    {
        InputException refused = Assert.Throws<InputException>(() => Read("0|5|900\n1|5|901\n", "csv-metadata.json", "{ \"url\": "));

        Assert.Contains("csv-metadata.json stands beside a log and is no valid table metadata (", refused.Message,
            StringComparison.Ordinal);
        Assert.EndsWith("correct it or remove it.", refused.Message, StringComparison.Ordinal);
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

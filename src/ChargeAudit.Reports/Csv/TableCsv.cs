using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using CsvHelper;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Reports.Csv;

/// <summary>
/// Writes a table as comma-separated text: decimal points, one header line, fields quoted where they must be; a text that a spreadsheet
/// would run as a formula gets an apostrophe before it. <i>Source:</i> RFC 4180, 2.
/// </summary>
public static class TableCsv
{
    // The ASCII signs and their full-width forms.
    private const string FormulaStarts = "=+-@\uFF1D\uFF0B\uFF0D\uFF20";

    /// <summary>
    /// Writes the whole table; lines end with a line feed. Numbers get the fewest digits that read back as the same double (the table's own
    /// writer gives seventeen); what is not known is an empty field.
    /// </summary>
    /// <param name="table">The table.</param>
    /// <param name="writer">Where it goes; left open.</param>
    public static void Write(DataFrame table, TextWriter writer)
    {
        // What a spreadsheet would run is made inert here: the library looks at the first character alone, and only at ASCII.
        using var csv = CsvWriter.Create(writer, new CsvWriterOptions { NewLine = "\n" }, leaveOpen: true);
        csv.WriteRecord([.. table.Columns.Select(c => Inert(c.Name))]);
        foreach (var row in table.Rows)
        {
            csv.WriteRecord([.. row.Select(Text)]);
        }
    }

    /// <summary>The same as a string.</summary>
    public static string Text(DataFrame table)
    {
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        Write(table, writer);
        return writer.ToString();
    }

    private static string Text(object? value) => value switch
    {
        null => "",
        bool truth => truth ? "true" : "false",
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
        _ => Inert(VisibleText.Of(WrittenMarks.Exact(value.ToString() ?? ""), lines: true)),
    };

    // A spreadsheet runs a cell that begins so as a formula; after an apostrophe it is text. Numbers are written by us and stay as they
    // are.
    private static string Inert(string text) => text.AsSpan().TrimStart() is [var first, ..]
        && (FormulaStarts.Contains(first) || text[0] is '\t' or '\r' or '\n') ? $"'{text}" : text;
}

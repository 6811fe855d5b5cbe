using System.Globalization;
using System.Text;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Reports.Csv;

/// <summary>Writes a table as comma-separated text: decimal points, one header line, fields quoted where they must be. <i>Source:</i> RFC 4180, 2.</summary>
public static class TableCsv
{
    /// <summary>Writes the whole table; lines end with a line feed, numbers keep every digit.</summary>
    /// <param name="table">The table.</param>
    /// <param name="writer">Where it goes.</param>
    public static void Write(DataFrame table, TextWriter writer)
    {
        using var bytes = new MemoryStream();
        var utf8 = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        DataFrame.SaveCsv(table, bytes, ',', header: true, utf8, CultureInfo.InvariantCulture);
        writer.Write(utf8.GetString(bytes.ToArray()).Replace("\r\n", "\n", StringComparison.Ordinal));
    }

    /// <summary>The same as a string.</summary>
    public static string Text(DataFrame table)
    {
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        Write(table, writer);
        return writer.ToString();
    }
}

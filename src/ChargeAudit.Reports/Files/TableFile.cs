using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Csv;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Reports.Files;

/// <summary>Tables as files of any of the formats.</summary>
public static class TableFile
{
    /// <summary>A table in each of the formats, as <c>NAME.csv</c>, <c>NAME.parquet</c> or <c>NAME.arrow</c>.</summary>
    /// <param name="name">The table's name.</param>
    /// <param name="table">The table.</param>
    /// <param name="formats">The formats; each is written once.</param>
    public static IEnumerable<(string Name, byte[] Bytes)> Of(string name, DataFrame table, IEnumerable<TableFormat> formats) =>
        formats.Distinct().Order().Select(f => ($"{name}.{StableName.Of(f)}", Bytes(table, f)));

    private static byte[] Bytes(DataFrame table, TableFormat format) => format switch
    {
        TableFormat.Csv => Encoding.UTF8.GetBytes(TableCsv.Text(table)),
        TableFormat.Parquet => ParquetTable.Of(table),
        _ => ArrowTable.Of(table),
    };
}

using System.Globalization;
using ChargeAudit.Metrology;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>Rows of a table that is built into the program, the first of which is the header.</summary>
internal static class DataTable
{
    /// <summary>The rows, each as fields by header.</summary>
    internal static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(string name)
    {
        var rows = BuiltIn.Rows(typeof(DataTable).Assembly, "ChargeAudit.Comparing.Procedures." + name).ToList();
        return [.. rows.Skip(1).Select(fields => rows[0].Zip(fields).ToDictionary(p => p.First, p => p.Second))];
    }

    /// <summary>The number in a field.</summary>
    internal static double Number(string text) => text switch
    {
        "inf" => double.PositiveInfinity,
        "-inf" => double.NegativeInfinity,
        _ => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture),
    };

    /// <summary>The date in a field; null where it is empty.</summary>
    internal static DateOnly? Date(string text) => text.Length == 0
        ? null
        : DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);
}

using System.Globalization;
using System.Reflection;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>Rows of a table that is built into the program; lines that start with # are remarks, the first other line is the
/// header.</summary>
internal static class DataTable
{
    /// <summary>The rows, each as fields by header.</summary>
    internal static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("ChargeAudit.Comparing.Procedures." + name)
            ?? throw new InvalidOperationException($"the table {name} is missing from the program");
        using var reader = new StreamReader(stream);
        string[]? header = null;
        var rows = new List<IReadOnlyDictionary<string, string>>();
        while (reader.ReadLine() is { } line)
        {
            if (line.Length == 0 || line[0] == '#')
            {
                continue;
            }

            string[] fields = line.Split('\t');
            if (header is null)
            {
                header = fields;
            }
            else
            {
                rows.Add(header.Zip(fields).ToDictionary(p => p.First, p => p.Second));
            }
        }

        return rows;
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

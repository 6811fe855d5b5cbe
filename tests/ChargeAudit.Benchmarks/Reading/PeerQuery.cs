using System.Globalization;
using DuckDB.NET.Data;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>
/// <c>reading-peer FILE TIME_TYPE</c>: the same energy by a general-purpose SQL engine, in a process of its own. It is told the column
/// types and uses all cores; the window has no order, so that it streams: the fastest query of those tried.
/// </summary>
public static class PeerQuery
{
    public const string Name = "reading-peer";

    /// <summary>Runs the query on a file of elapsed seconds and prints the energy.</summary>
    public static int Run(string path, TextWriter output)
    {
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = $$"""
            select sum(0.5 * (p + q) * (t - s)) from (
                select t, p, lag(t) over () as s, lag(p) over () as q from (
                    select time_s as t, voltage_V * current_A as p
                    from read_csv('{{path.Replace("'", "''", StringComparison.Ordinal)}}', delim = ',', header = true, auto_detect = false,
                        columns = {'time_s': 'DOUBLE', 'voltage_V': 'DOUBLE', 'current_A': 'DOUBLE'})))
            """;
        double energyJ = (double)command.ExecuteScalar()!;
        output.WriteLine((energyJ / 3600).ToString("R", CultureInfo.InvariantCulture));
        return 0;
    }
}

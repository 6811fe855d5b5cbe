using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using SQLitePCL;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Databases with one table of readings.</summary>
public sealed class SqliteLogTests
{
    [Fact]
    public void The_one_table_is_read_in_the_order_of_its_rows()
    {
        LogText.Read read =
            LogText.Of(Database("CREATE TABLE t (time_s INTEGER, power_W REAL)",
            Rows("t", i => InvariantText.Of($"{i}, {4 + (0.125 * i)}"))), name: "log.db");

        Assert.Equal(("sqlite", 20, 19.0, 6.375),
            (read.Layout.Format, read.Samples.Count, read.Samples[^1].TimeS, read.Samples[^1].PowerW));
    }

    [Fact]
    public void Of_several_tables_the_one_with_readings_is_read_and_told()
    {
        LogText.Read read = LogText.Of(
            Database("CREATE TABLE notes (id INTEGER, note TEXT)", "INSERT INTO notes VALUES (1, 'x')",
                "CREATE TABLE log (time TEXT, voltage_V REAL, current_A REAL)", Rows("log", i => $"'2031-05-07 18:30:{i:00}', 5.0, 0.9")),
            name: "log.db");

        Assert.Equal((20, 19.0), (read.Samples.Count, read.Samples[^1].TimeS));
        Assert.Contains(read.Layout.Notes, n => n.Contains("Table \"log\" was read, not \"notes\"", StringComparison.Ordinal));
    }

    [Fact]
    public void A_table_of_names_and_values_is_read_as_a_long_one()
    {
        LogText.Read read = LogText.Of(
            Database("CREATE TABLE states (entity TEXT, state TEXT, last_changed REAL)",
                Rows("states", i => $"'plug power', '{(i == 9 ? "unavailable" : "4.5")}', {1936000000 + (10 * i)}.5")),
            new LogOptions { Samples = SampleKind.OnChange },
            "log.db");

        Assert.Equal((20, 190.0, true), (read.Samples.Count, read.Samples[^1].TimeS, read.Samples[10].AfterAway));
    }

    [Fact]
    public void Two_tables_of_readings_are_refused()
    {
        string message =
            Refusal(Database("CREATE TABLE a (time_s, power_W)", "CREATE TABLE b (time_s, power_W)", Rows("a", i => $"{i}, 4"),
            Rows("b", i => $"{i}, 5")));

        Assert.Contains("2 tables of readings (\"a\", \"b\")", message, StringComparison.Ordinal);
    }

    [Fact]
    public void Views_and_computed_columns_are_not_run()
    {
        byte[] bytes = Database(
            "CREATE TABLE t (time_s INTEGER, power_W REAL, twice REAL GENERATED ALWAYS AS (2 * power_W))",
            "CREATE VIEW v AS WITH RECURSIVE n(time_s, power_W) AS (SELECT 1, 1 UNION ALL SELECT time_s + 1, 1 FROM n) SELECT * FROM n",
            "INSERT INTO t (time_s, power_W) VALUES (0, 4), (1, 4), (2, 4)");

        Assert.Equal(3, LogText.Of(bytes, name: "log.db").Samples.Count);
    }

    [Fact]
    public void A_damaged_database_is_refused()
    {
        byte[] bytes = Database("CREATE TABLE t (time_s INTEGER, power_W REAL)", Rows("t", i => $"{i}, 4"));
        Array.Fill(bytes, (byte)0xFF, 4096, bytes.Length - 4096);

        Assert.Contains("begins as SQLite but", Refusal(bytes), StringComparison.Ordinal);
    }

    private static string Refusal(byte[] bytes) => Assert.Throws<InputException>(() => LogText.Of(bytes, name: "log.db")).Message;

    private static string Rows(string table, Func<int, string> values) =>
        $"INSERT INTO {table} VALUES {string.Join(", ", Enumerable.Range(0, 20).Select(i => $"({values(i)})"))}";

    private static byte[] Database(params string[] statements)
    {
        Batteries_V2.Init();
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        try
        {
            Assert.Equal(raw.SQLITE_OK, raw.sqlite3_open(path, out sqlite3 database));
            using (database)
            {
                foreach (string statement in statements)
                {
                    Assert.Equal(raw.SQLITE_OK, raw.sqlite3_exec(database, statement));
                }
            }

            return File.ReadAllBytes(path);
        }
        finally
        {
            File.Delete(path);
        }
    }
}

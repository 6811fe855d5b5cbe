using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Reads logs that a test writes down.</summary>
internal static class LogText
{
    public sealed record Read(LogLayout Layout, ReadOutcome Outcome, IReadOnlyList<Sample> Samples);

    /// <summary>Reads a text as a file of UTF-8 without byte-order mark.</summary>
    public static Read Of(string text, LogOptions? options = null, string name = "log.csv") =>
        Of(Encoding.UTF8.GetBytes(text), options, name);

    public static Read Of(byte[] bytes, LogOptions? options = null, string name = "log.csv")
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        try
        {
            string path = Path.Combine(folder, name);
            File.WriteAllBytes(path, bytes);
            return FromFile(path, options);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    public static Read FromFile(string path, LogOptions? options = null)
    {
        options ??= new LogOptions();
        LogLayout layout = LogReader.Inspect(path, options);
        var sink = new Collected();
        ReadOutcome outcome = LogReader.ReadInto(path, layout, options, ref sink, null, CancellationToken.None);
        return new Read(layout, outcome, sink.Samples);
    }
}

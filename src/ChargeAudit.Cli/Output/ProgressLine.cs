using System.Globalization;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Output;

/// <summary>
/// One line on a terminal that says how far a long reading is, how fast, and how long it will take. It is written over and over, gone at
/// the end, and not there at all for the first half second.
/// </summary>
internal sealed class ProgressLine(CliHost host) : IDisposable
{
    private static readonly TimeSpan FirstAfter = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan NextAfter = TimeSpan.FromSeconds(0.2);

    private readonly long _started = host.Clock.GetTimestamp();
    private readonly OverwrittenLine _line = new(host.Error, host.Width);
    private long _drawn = host.Clock.GetTimestamp();

    /// <summary>Draws how far it is, where it is time to.</summary>
    /// <param name="what">What is being read.</param>
    /// <param name="bytesRead">Bytes read so far.</param>
    /// <param name="bytes">Bytes in all.</param>
    public void Draw(string what, long bytesRead, long bytes)
    {
        var elapsed = host.Clock.GetElapsedTime(_started);
        if (elapsed < FirstAfter || host.Clock.GetElapsedTime(_drawn) < NextAfter)
        {
            return;
        }

        _drawn = host.Clock.GetTimestamp();
        double rate = bytesRead / elapsed.TotalSeconds;
        double share = 100.0 * Math.Min(bytesRead, bytes) / Math.Max(1, bytes);
        string left = rate > 0 ? $", {Duration(Math.Max(0, bytes - bytesRead) / rate)} left" : "";
        _line.Write(WrittenMarks.Shown(Prose.Of($"{VisibleText.Of(what)}: {share:F0} %, {Rate(rate / 1e6)} MB/s{left}")));
    }

    /// <inheritdoc/>
    public void Dispose() => _line.Dispose();

    private static string Rate(double megabytes) =>
        WrittenMarks.Number(megabytes.ToString(megabytes < 10 ? "F1" : "F0", CultureInfo.InvariantCulture));

    private static string Duration(double seconds) => seconds < 90
        ? seconds.ToString("F0", CultureInfo.InvariantCulture) + " s"
        : (seconds / 60).ToString("F0", CultureInfo.InvariantCulture) + " min";
}

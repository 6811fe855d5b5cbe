using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A log written out as text and measured as a user would have it measured.</summary>
internal static class TextLog
{
    /// <summary>A table of elapsed seconds and readings, with as many digits as each column's format says.</summary>
    public static string Of(string header, IEnumerable<int> times, params (string Format, Func<int, double> At)[] columns)
    {
        var text = new StringBuilder(header).Append('\n');
        foreach (int t in times)
        {
            text.Append(t.ToString(CultureInfo.InvariantCulture));
            foreach (var (format, at) in columns)
            {
                text.Append(',').Append(at(t).ToString(format, CultureInfo.InvariantCulture));
            }

            text.Append('\n');
        }

        return text.ToString();
    }

    /// <summary>The log measured at a point by a meter of the stated accuracies.</summary>
    public static LogMeasurement Measure(string text, MeasuringPoint point, LogOptions? options = null,
        params (LogQuantity Quantity, string Accuracy)[] stated)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            var meter = new Meter
            {
                Name = "bench",
                Options = (options ?? new LogOptions()) with { Point = point },
                Accuracy = stated.ToDictionary(s => s.Quantity, s => MeterAccuracy.Parse(s.Accuracy, s.Quantity)),
            };
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Names = ["log.csv"], Meter = meter },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }
}

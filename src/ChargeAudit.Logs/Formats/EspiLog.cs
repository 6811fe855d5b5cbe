using System.Globalization;
using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Formats;

/// <summary>Interval data of utility meters.</summary>
/// <remarks>*Source:* NAESB REQ.21 Energy Services Provider Interface.</remarks>
internal sealed class EspiLog : ILogFormat
{
    // Four years of minutes, in a few tens of megabytes.
    private const int MostHeld = 2_000_000;

    public string Name => "espi";

    public bool Recognises(ReadOnlySpan<byte> head)
    {
        ReadOnlySpan<byte> text = head.StartsWith("\uFEFF"u8) ? head[3..] : head;
        text = text.TrimStart(" \t\r\n"u8);
        return text.StartsWith("<?xml"u8) || text.StartsWith("<feed"u8) || text.StartsWith("<!--"u8) || text.StartsWith("<!DOCTYPE"u8)
            || (text.StartsWith("<"u8) && text.IndexOf("naesb.org/espi"u8) > 0);
    }

    public FormatTable Open(IStoredLog source)
    {
        EspiDocument document = EspiDocument.Survey(source);
        if (document.Count == 0)
        {
            throw LogErrors.NoEspiReadings(source.Path);
        }

        // Energy before power, and what flows to the user before what flows back.
        EspiReadingType[] usable = [.. document.Types.Where(t => t.IsUsable).OrderByDescending(t => t.IsEnergy)
            .ThenBy(t => t.FlowDirection is 0 or 1 ? 0 : 1)];
        if (usable.Length == 0)
        {
            throw LogErrors.NoEspiUnit(source.Path);
        }

        EspiReadingType type = usable[0];
        IEnumerable<EspiReading> readings = document.IsRising ? Series(document, type) : InOrder(source.Path, Series(document, type));
        List<string> notes = [];
        if (document.Types.Count > 1)
        {
            notes.Add(
                InvariantText.Of(
                    $"The document holds {document.Types.Count} series of readings; the one of unit code {type.Uom} was read."));
        }

        return type switch
        {
            { IsEnergy: true, IsRegister: true } => new FormatTable(Registers(readings, type), null, true, notes),
            { IsEnergy: true } => new FormatTable(Differences(readings, type), SampleKind.AverageStarting, true, notes),
            _ => new FormatTable(Powers(readings, type), type.Accumulation == 12 ? null : SampleKind.AverageStarting, true, notes),
        };
    }

    // Blocks belong to a meter reading by their address, and that to a reading type; a document with one type needs no addresses.
    private static IEnumerable<EspiReading> Series(EspiDocument document, EspiReadingType type)
    {
        if (document.Types.Count == 1)
        {
            return document.Readings().Select(r => r.Reading);
        }

        HashSet<string> meters = [.. document.Meters.Where(m => m.Related.Contains(type.Self)).Select(m => m.Self)];
        string[] within = [.. meters.Select(m => m + "/")];
        return document.Readings()
            .Where(r => meters.Contains(r.Up) || Array.Exists(within, w => r.Up.StartsWith(w, StringComparison.Ordinal)))
            .Select(r => r.Reading);
    }

    // Nearly all documents are in order of time and are read as they come. Others, such as those with the newest day first, have to
    // be held to be put in order.
    private static IEnumerable<EspiReading> InOrder(string path, IEnumerable<EspiReading> readings)
    {
        long last = long.MinValue;
        bool rising = true;
        int count = 0;
        foreach (EspiReading reading in readings)
        {
            rising &= reading.Start >= last;
            last = reading.Start;
            count++;
        }

        return rising ? readings
            : count <= MostHeld ? readings.OrderBy(r => r.Start)
            : throw LogErrors.NotInOrder(path, MostHeld);
    }

    // Each interval as its mean power from its start on. A counter made of them would miss the last interval, and would call a missing one
    // empty; one interval alone has no other end.
    private static IEnumerable<string> Differences(IEnumerable<EspiReading> readings, EspiReadingType type)
    {
        if (readings.Skip(1).Any())
        {
            yield return "time\tpower (W)";
            foreach (EspiReading r in readings)
            {
                yield return Line(r.Start, r.DurationS > 0 ? r.Value * type.Factor * 3600 / r.DurationS : 0);
            }

            yield break;
        }

        yield return "time\tpower (W)\tenergy (Wh)";
        Int128 sum = 0;
        EspiReading? last = null;
        foreach (EspiReading r in readings)
        {
            double powerW = r.DurationS > 0 ? r.Value * type.Factor * 3600 / r.DurationS : 0;
            yield return Line(r.Start, powerW, (double)sum * type.Factor);
            sum += r.Value;
            last = r;
        }

        if (last is { } end)
        {
            yield return Line(end.Start + end.DurationS, null, (double)sum * type.Factor);
        }
    }

    // A register's value holds at the end of its period.
    private static IEnumerable<string> Registers(IEnumerable<EspiReading> readings, EspiReadingType type)
    {
        yield return "time\tenergy (Wh)";
        foreach (EspiReading r in readings)
        {
            yield return InvariantText.Of($"{r.Start + r.DurationS}\t{r.Value * type.Factor:R}");
        }
    }

    private static IEnumerable<string> Powers(IEnumerable<EspiReading> readings, EspiReadingType type)
    {
        yield return "time\tpower (W)";
        foreach (EspiReading r in readings)
        {
            yield return InvariantText.Of($"{r.Start}\t{r.Value * type.Factor:R}");
        }
    }

    private static string Line(long start, double powerW) => InvariantText.Of($"{start}\t{powerW:R}");

    private static string Line(long start, double? powerW, double energyWh) => new StringBuilder()
        .Append(CultureInfo.InvariantCulture, $"{start}\t").Append(CultureInfo.InvariantCulture, $"{powerW:R}\t")
            .Append(CultureInfo.InvariantCulture, $"{energyWh:R}").ToString();
}

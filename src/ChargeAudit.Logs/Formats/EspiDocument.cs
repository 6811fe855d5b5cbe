using System.Globalization;
using System.Xml;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Formats;

/// <summary>
/// What an interval-data document says about its series, from one pass over it that holds no reading; its readings come by further passes,
/// one at a time. Memory stays flat however long it is.
/// </summary>
/// <remarks>*Source:* NAESB REQ.21 ESPI, schema espi.xsd 4.0: ReadingType, IntervalBlock, IntervalReading; RFC 4287 (Atom) for the entries
/// around them.</remarks>
internal sealed class EspiDocument
{
    private const string Espi = "http://naesb.org/espi";
    private const string Atom = "http://www.w3.org/2005/Atom";

    // Far beyond a decade of minutes; a document that claims more is not one of readings.
    private const int MostReadings = 10_000_000;

    // A document has a handful of series.
    private const int MostEntries = 10_000;

    // The seconds of 31 000 years, for starts and lengths: their sums stay far inside the numbers.
    private const long GreatestS = 1_000_000_000_000;

    private readonly IStoredLog _source;

    private EspiDocument(IStoredLog source) => _source = source;

    public List<EspiReadingType> Types { get; } = [];

    /// <summary>Meter readings: their address, and the addresses they relate to.</summary>
    public List<(string Self, List<string> Related)> Meters { get; } = [];

    /// <summary>How many readings there are.</summary>
    public int Count { get; private set; }

    /// <summary>Whether all of them are in order of time.</summary>
    public bool IsRising { get; private set; } = true;

    /// <summary>Reads what surrounds the readings. Nothing outside the document is fetched, and entities are refused.</summary>
    public static EspiDocument Survey(IStoredLog source)
    {
        var document = new EspiDocument(source);
        long last = long.MinValue;
        foreach (var (_, reading) in Told(source.Path, document.Walk(surveys: true)))
        {
            document.IsRising &= reading.Start >= last;
            last = reading.Start;
            if (++document.Count > MostReadings)
            {
                throw LogErrors.TooManyReadings(source.Path, MostReadings);
            }
        }

        return document;
    }

    /// <summary>The readings in the order of the document, with the address of the collection that each is in.</summary>
    public IEnumerable<(string Up, EspiReading Reading)> Readings() => Told(_source.Path, Walk(surveys: false));

    // What the reader finds wrong becomes a sentence; a method that yields cannot catch it itself.
    private static IEnumerable<T> Told<T>(string path, IEnumerable<T> items)
    {
        using IEnumerator<T> all = items.GetEnumerator();
        while (true)
        {
            try
            {
                if (!all.MoveNext())
                {
                    break;
                }
            }
            catch (XmlException e)
            {
                throw LogErrors.DamagedXml(path, e.LineNumber, e);
            }

            yield return all.Current;
        }
    }

    private IEnumerable<(string Up, EspiReading Reading)> Walk(bool surveys)
    {
        using Stream raw = _source.OpenRaw();
        using MarkupGuard guard = MarkupGuard.Of(raw, _source.Path);
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            MaxCharactersFromEntities = 1,
            MaxCharactersInDocument = 1L << 31,
            IgnoreComments = true,
            IgnoreWhitespace = true,
            IgnoreProcessingInstructions = true,
            NameTable = new BoundedNames(_source.Path),
        };
        using var xml = XmlReader.Create(guard, settings);
        string self = "";
        string up = "";
        List<string> related = [];
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            switch (xml.NamespaceURI, xml.LocalName)
            {
                case (Atom, "entry"):
                    (self, up, related) = ("", "", []);
                    break;
                case (Atom, "link"):
                    string href = xml.GetAttribute("href") ?? "";
                    string? rel = xml.GetAttribute("rel");
                    self = rel == "self" ? href : self;
                    up = rel == "up" ? href : up;
                    if (rel == "related" && surveys)
                    {
                        related.Add(href);
                        RequireFew(related.Count);
                    }

                    break;
                case (Espi, "ReadingType") when surveys:
                    Types.Add(ReadType(xml, self));
                    RequireFew(Types.Count);
                    break;
                case (Espi, "MeterReading") when surveys:
                    Meters.Add((self, related));
                    RequireFew(Meters.Count);
                    break;
                case (Espi, "IntervalBlock"):
                    foreach (EspiReading reading in ReadBlock(xml))
                    {
                        yield return (up, reading);
                    }

                    break;
                default:
                    break;
            }
        }
    }

    private void RequireFew(int count)
    {
        if (count > MostEntries)
        {
            throw LogErrors.MarkupTooLarge(_source.Path, "more than", MostEntries, "series of readings");
        }
    }

    private EspiReadingType ReadType(XmlReader xml, string self)
    {
        Dictionary<string, long> values = [];
        ReadNumbers(xml, values);
        return new EspiReadingType(
            (int)values.GetValueOrDefault("uom"),
            (int)values.GetValueOrDefault("powerOfTenMultiplier"),
            (int)values.GetValueOrDefault("accumulationBehaviour"),
            (int)values.GetValueOrDefault("flowDirection"),
            values.GetValueOrDefault("intervalLength"),
            self);
    }

    private IEnumerable<EspiReading> ReadBlock(XmlReader xml)
    {
        long next = 0;
        using XmlReader block = xml.ReadSubtree();
        block.Read();
        Dictionary<string, long> values = [];
        while (block.Read())
        {
            if (block.NodeType != XmlNodeType.Element || block.NamespaceURI != Espi)
            {
                continue;
            }

            values.Clear();
            if (block.LocalName == "interval")
            {
                ReadNumbers(block, values);
                next = values.GetValueOrDefault("start");
            }
            else if (block.LocalName == "IntervalReading")
            {
                ReadNumbers(block, values);
                if (!values.TryGetValue("value", out long value))
                {
                    continue;
                }

                // A reading without its own period follows the one before.
                long duration = values.GetValueOrDefault("duration", Types.Count > 0 ? Types[0].IntervalS : 0);
                long start = values.GetValueOrDefault("start", next);
                next = Math.Clamp(start + duration, -GreatestS, GreatestS);
                yield return new EspiReading(start, duration, value);
            }
        }
    }

    // Numbers of all elements below this one, by local name; later ones of one name do not overwrite the first.
    private void ReadNumbers(XmlReader xml, Dictionary<string, long> values)
    {
        using XmlReader inner = xml.ReadSubtree();
        inner.Read();
        string name = "";
        while (inner.Read())
        {
            if (inner.NodeType == XmlNodeType.Element)
            {
                name = inner.LocalName;
            }
            else if (inner.NodeType == XmlNodeType.Text && Greatest(name) is long greatest)
            {
                if (!long.TryParse(inner.Value.Trim(), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long number)
                    || number < -greatest || number > greatest)
                {
                    throw LogErrors.WrongElement(_source.Path, (xml as IXmlLineInfo)?.LineNumber ?? 0, name, inner.Value, greatest);
                }

                values.TryAdd(name, number);
            }
        }
    }

    // The elements that are read, with the greatest magnitude that can be meant: codes are small, a power of ten is that of a unit.
    private static long? Greatest(string name) => name switch
    {
        "uom" or "accumulationBehaviour" or "flowDirection" => 1_000_000,
        "powerOfTenMultiplier" => 24,
        "intervalLength" or "start" or "duration" => GreatestS,
        "value" => 1_000_000_000_000_000,
        _ => null,
    };
}

using System.Globalization;
using System.Xml;

namespace ChargeAudit.Logs.Formats;

/// <summary>Everything of an interval-data document that bears on energy.</summary>
/// <remarks>*Source:* NAESB REQ.21 ESPI, schema espi.xsd 4.0: ReadingType, IntervalBlock, IntervalReading; RFC 4287 (Atom) for the entries around them.</remarks>
internal sealed class EspiDocument
{
    private const string Espi = "http://naesb.org/espi";
    private const string Atom = "http://www.w3.org/2005/Atom";

    // Far beyond a decade of minutes; a document that claims more is not one of readings.
    private const int MostReadings = 10_000_000;

    private readonly string path;
    private int count;

    private EspiDocument(string path) => this.path = path;

    public List<EspiReadingType> Types { get; } = [];

    /// <summary>Blocks of readings with the address of the collection they stand in.</summary>
    public List<(string Up, List<EspiReading> Readings)> Blocks { get; } = [];

    /// <summary>Meter readings: their address, and the addresses they relate to.</summary>
    public List<(string Self, List<string> Related)> Meters { get; } = [];

    /// <summary>Reads a document. Nothing outside it is fetched, and entities are refused.</summary>
    public static EspiDocument Read(string path, Stream stream)
    {
        var document = new EspiDocument(path);
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            MaxCharactersFromEntities = 1,
            MaxCharactersInDocument = 1L << 31,
            IgnoreComments = true,
            IgnoreWhitespace = true,
        };
        try
        {
            using var xml = XmlReader.Create(stream, settings);
            document.ReadEntries(xml);
        }
        catch (XmlException e)
        {
            throw LogErrors.DamagedXml(path, e.LineNumber, e);
        }

        return document;
    }

    private void ReadEntries(XmlReader xml)
    {
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
                    if (rel == "related")
                    {
                        related.Add(href);
                    }

                    break;
                case (Espi, "ReadingType"):
                    Types.Add(ReadType(xml, self));
                    break;
                case (Espi, "MeterReading"):
                    Meters.Add((self, related));
                    break;
                case (Espi, "IntervalBlock"):
                    Blocks.Add((up, ReadBlock(xml)));
                    break;
                default:
                    break;
            }
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

    private List<EspiReading> ReadBlock(XmlReader xml)
    {
        List<EspiReading> readings = [];
        long next = 0;
        using XmlReader block = xml.ReadSubtree();
        block.Read();
        while (block.Read())
        {
            if (block.NodeType != XmlNodeType.Element || block.NamespaceURI != Espi)
            {
                continue;
            }

            if (block.LocalName == "interval")
            {
                Dictionary<string, long> interval = [];
                ReadNumbers(block, interval);
                next = interval.GetValueOrDefault("start");
            }
            else if (block.LocalName == "IntervalReading")
            {
                Dictionary<string, long> values = [];
                ReadNumbers(block, values);
                if (!values.TryGetValue("value", out long value))
                {
                    continue;
                }

                // A reading without its own period follows the one before.
                long duration = values.GetValueOrDefault("duration", Types.Count > 0 ? Types[0].IntervalS : 0);
                long start = values.GetValueOrDefault("start", next);
                next = start + duration;
                readings.Add(new EspiReading(start, duration, value));
                if (++count > MostReadings)
                {
                    throw LogErrors.TooManyReadings(path, MostReadings);
                }
            }
        }

        return readings;
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
            else if (inner.NodeType == XmlNodeType.Text && name is "uom" or "powerOfTenMultiplier" or "accumulationBehaviour" or "flowDirection" or "intervalLength" or "start" or "duration" or "value")
            {
                if (!long.TryParse(inner.Value.Trim(), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long number))
                {
                    throw LogErrors.WrongElement(path, (xml as IXmlLineInfo)?.LineNumber ?? 0, name, inner.Value);
                }

                values.TryAdd(name, number);
            }
        }
    }
}

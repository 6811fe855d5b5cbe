using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Formats;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.LongTables;

/// <summary>A table whose rows hold all quantities of one device each, of several devices in turn: the rows of one are taken, those of the
/// others become empty lines.</summary>
internal sealed record DeviceRows : IReshape
{
    public required char Separator { get; init; }

    public required long HeaderLine { get; init; }

    /// <summary>Rows from this line on belong to a device.</summary>
    public required long FirstDataLine { get; init; }

    /// <summary>Column that names the device.</summary>
    public required int Column { get; init; }

    /// <summary>The column's header.</summary>
    public required string Header { get; init; }

    /// <summary>The device that is taken.</summary>
    public required string Taken { get; init; }

    /// <inheritdoc />
    public required IReadOnlyList<string> Notes { get; init; }

    /// <inheritdoc />
    public string Words =>
        $"rows of several devices in turn; taken: those with {LogErrors.Quote(Taken)} in column {LogErrors.Quote(Header)}";

    /// <inheritdoc />
    public IEnumerable<string> Lines(string path, Stream utf8)
    {
        long number = 0;
        foreach (string line in BoundedLines.Read(path, utf8))
        {
            number++;
            string[] fields = number < HeaderLine ? [] : Cells.Split(line, Separator);
            bool ofDevice = number >= FirstDataLine && fields.Length > Column && fields[Column] != Header;
            yield return fields.Length == 0 || (ofDevice && fields[Column] != Taken)
                ? ""
                : string.Join('\t', fields.Select(LineStream.Field));
        }
    }
}

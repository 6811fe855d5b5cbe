using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Sources;

/// <summary>A file that is still being written: at its end more is waited for.</summary>
internal sealed class GrowingStream : ReadOnlyFilter
{
    private readonly string _path;
    private readonly Func<bool> _more;
    private bool _ended;

    private GrowingStream(Stream inner, string path, Func<bool> more)
        : base(inner) => (_path, _more) = (path, more);

    /// <summary>Opens a file.</summary>
    /// <param name="source">Where it is.</param>
    /// <param name="more">Waits, and says whether to look for more.</param>
    /// <exception cref="InputException">It is no file of plain text.</exception>
    public static GrowingStream Of(LogSource source, Func<bool> more) => source is { Packed: false, Converts: false, Spool: null }
        ? new GrowingStream(source.OpenRaw(), source.Path, more)
        : throw new InputException(InputProblem.Unusable,
            $"{source.Path} cannot be followed while it grows; a file of plain text with a row on each line was expected; measure it when "
            + "it is whole.");

    public override int Read(Span<byte> buffer)
    {
        while (!_ended)
        {
            int read = Inner.Read(buffer);
            if (read > 0)
            {
                return read;
            }

            if (Inner.Length < Inner.Position)
            {
                throw new InputException(InputProblem.Unusable,
                    $"{_path} was cut short while it was followed; it was expected to grow only; start again.");
            }

            _ended = !_more();
        }

        return 0;
    }
}

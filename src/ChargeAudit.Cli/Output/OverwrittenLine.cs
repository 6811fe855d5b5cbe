using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Output;

/// <summary>One line on a terminal that each text writes over, and that leaves nothing behind. Names from files are made safe to show
/// here.</summary>
/// <remarks>A progress of Spectre.Console hides the cursor, which stays hidden where the program is killed, breaks into several lines on a
/// narrow terminal and leaves lines behind on one that takes no escapes.</remarks>
/// <param name="output">The terminal.</param>
/// <param name="terminalWidth">Its width; a longer text is cut, as a second line could not be taken back. [1]</param>
internal sealed class OverwrittenLine(TextWriter output, int terminalWidth) : IDisposable
{
    private int _width;

    /// <summary>Writes a text over the one before.</summary>
    public void Write(string text)
    {
        string line = VisibleText.Of(text);
        line = line.Length < terminalWidth ? line : line[..(terminalWidth - 1)];
        output.Write($"\r{line.PadRight(_width)}");
        _width = line.Length;
    }

    /// <summary>Wipes it.</summary>
    public void Clear()
    {
        if (_width > 0)
        {
            output.Write($"\r{new string(' ', _width)}\r");
            _width = 0;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => Clear();
}

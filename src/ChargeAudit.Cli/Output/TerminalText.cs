using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using Spectre.Console;

namespace ChargeAudit.Cli.Output;

/// <summary>Tables and paragraphs that fit the width of the terminal, or of the file that output goes to. Names and words from files are
/// made safe to show here, once.</summary>
internal sealed class TerminalText
{
    private readonly IAnsiConsole _console;

    public TerminalText(CliHost host)
    {
        _console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = host.OutputIsTerminal ? AnsiSupport.Detect : AnsiSupport.No,
            ColorSystem = host.OutputIsTerminal ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new PlainOutput(new TrimmedLines(host.Output), host.Width),
        });
        _console.Profile.Width = host.Width;
    }

    public void Title(string text)
    {
        _console.Write(new Text(Shown(text), new Style(decoration: Decoration.Bold)));
        _console.WriteLine();
    }

    public void Heading(string text)
    {
        _console.WriteLine();
        Title(text);
    }

    public void Line(string text)
    {
        _console.Write(new Text(Shown(text)));
        _console.WriteLine();
    }

    public void Bullets(IEnumerable<string> items) => Items(items.Select(Shown));

    /// <summary>A table; where the terminal is too narrow for it, a list with a line for each cell.</summary>
    public void Table(IReadOnlyList<string> headers, IEnumerable<IReadOnlyList<string>> rows)
    {
        var lines = rows.ToList();
        if (TableWidth.NeedsList(headers, lines, _console.Profile.Width))
        {
            Items(lines.Select(row => string.Join('\n', headers.Zip(row).Where(c => c.Second.Length > 0)
                .Select(c => c.First.Length > 0 ? $"{Shown(c.First)}: {Shown(c.Second)}" : Shown(c.Second)))));
            _console.WriteLine();
            return;
        }

        var table = new Table { Border = TableBorder.Simple, ShowRowSeparators = false };
        foreach (string header in headers)
        {
            table.AddColumn(new TableColumn(new Text(Shown(header))).PadLeft(0).PadRight(1));
        }

        foreach (var row in lines)
        {
            table.AddRow(row.Select(cell => new Text(Shown(cell))));
        }

        _console.Write(table);
    }

    private static string Shown(string text) => VisibleText.Of(WrittenMarks.Shown(text));

    private void Items(IEnumerable<string> visible)
    {
        var grid = new Grid().AddColumn(new GridColumn().NoWrap().PadLeft(0).PadRight(1))
            .AddColumn(new GridColumn().PadLeft(0).PadRight(0));
        bool any = false;
        foreach (string item in visible)
        {
            grid.AddRow(new Text("-"), new Text(item));
            any = true;
        }

        if (any)
        {
            _console.Write(grid);
        }
    }

    /// <summary>The writer with the width that was found, or asked for.</summary>
    private sealed class PlainOutput(TextWriter writer, int width) : IAnsiConsoleOutput
    {
        public TextWriter Writer => writer;

        public bool IsTerminal => false;

        public int Width => width;

        public int Height => 50;

        public void SetEncoding(System.Text.Encoding encoding)
        {
        }
    }

    /// <summary>Tables pad their lines with blanks; nobody needs them in a file.</summary>
    private sealed class TrimmedLines(TextWriter inner) : TextWriter
    {
        private int _blanks;

        public override System.Text.Encoding Encoding => inner.Encoding;

        public override void Write(char value)
        {
            if (value == ' ')
            {
                _blanks++;
                return;
            }

            if (value != '\n' && value != '\r')
            {
                inner.Write(new string(' ', _blanks));
            }

            _blanks = 0;
            inner.Write(value);
        }

        public override void Flush() => inner.Flush();
    }
}

using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>Marks figures that rest on more than measurements, and says below a table what they rest on. A note keeps its number over the
/// whole output.</summary>
internal sealed class Footnotes(TerminalText text)
{
    private readonly List<string> _known = [];
    private readonly SortedSet<int> _used = [];

    /// <summary>A figure with its interval and its mark, or why it is missing.</summary>
    public string Of(Figure figure) => FigureText.Of(figure) + Mark(figure);

    /// <summary>A figure without its interval.</summary>
    public string Value(Figure figure) => figure.Value is { } value ? FigureText.Value(value) + Mark(figure) : "not known";

    /// <summary>A pure number in per cent.</summary>
    public string Percent(Figure figure) => Of(figure.Value is { } value ? figure with { Value = FigureText.Percent(value) } : figure);

    /// <summary>What an overhead ratio is above one, in per cent.</summary>
    public string Overhead(Figure ratio) => Of(ratio.Value is { } value ? ratio with { Value = FigureText.Overhead(value) } : ratio);

    /// <summary>Prints the notes that were used since the last time.</summary>
    public void Print()
    {
        foreach (int note in _used)
        {
            text.Line(InvariantText.Of($"[{note}] rests on {_known[note - 1]}"));
        }

        _used.Clear();
    }

    /// <summary>The mark alone; empty where a figure rests on measurements.</summary>
    public string Mark(Figure figure)
    {
        if (figure is not { Value: not null, Assumed: { } assumed })
        {
            return "";
        }

        int at = _known.IndexOf(assumed);
        if (at < 0)
        {
            _known.Add(assumed);
            at = _known.Count - 1;
        }

        _used.Add(at + 1);
        return InvariantText.Of($" [{at + 1}]");
    }
}

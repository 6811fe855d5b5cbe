using System.Text.RegularExpressions;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Text;

/// <summary>A sentence taken apart: its names, its figures and the frame that holds them.</summary>
internal sealed class Said
{
    private readonly List<string> _named = [];

    /// <summary>Takes a sentence apart.</summary>
    /// <param name="sentence">The sentence; one whose name stands before it is not looked through for further names.</param>
    /// <param name="names">The names that it may hold.</param>
    public Said(Alike.Named sentence, KnownNames names)
    {
        (Name, Rest) = (sentence.Name, sentence.Rest);
        string exact = WrittenMarks.Exact(Rest);
        string frame = Name is null ? names.Replaced(exact, OfName, OfFigure) : SaidFigure.Alone().Replace(exact, OfFigure);
        if (Name is not null)
        {
            _named.Add(Name);
        }

        Frame = Name is null ? frame : $"\u0003{frame}";

        string OfName(string name)
        {
            _named.Add(name);
            return "\u0001";
        }

        string OfFigure(Match found)
        {
            var figure = SaidFigure.Of(found);
            Figures.Add(figure);
            return $"{figure.Before}\u0002{figure.Unit}";
        }
    }

    /// <summary>The name before the sentence; null for none.</summary>
    public string? Name { get; }

    /// <summary>The sentence after it.</summary>
    public string Rest { get; }

    /// <summary>The whole sentence.</summary>
    public string Text => Name + Rest;

    /// <summary>What is left without names and figures.</summary>
    public string Frame { get; }

    /// <summary>Its names, in order; the one before it last.</summary>
    public IReadOnlyList<string> NamesInOrder => _named;

    /// <summary>Its figures, in order.</summary>
    public List<SaidFigure> Figures { get; } = [];

    /// <summary>Whether one of the same frame differs from this in figures and at most one name alone.</summary>
    /// <param name="other">The other.</param>
    public bool SaysTheSame(Said other) => _named.Zip(other._named).Where(n => n.First != n.Second).Distinct().Count() <= 1;

    /// <summary>The name in which this differs from the first sentence; null for none.</summary>
    /// <param name="first">The first sentence.</param>
    public string? OtherThan(Said first) =>
        _named.Zip(first._named).Where(n => n.First != n.Second).Select(n => n.First).FirstOrDefault();
}

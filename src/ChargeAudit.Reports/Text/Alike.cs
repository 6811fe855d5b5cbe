using ChargeAudit.Comparing.Results;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Text;

/// <summary>
/// Sentences that say the same of several methods, runs or logs, shown once: the first in full, then the names of the others, and their
/// figures where those differ. Two sentences say the same where they differ in figures and in one name alone.
/// </summary>
internal sealed class Alike
{
    private const int MostNamed = 4;

    private readonly KnownNames _names = new();

    /// <summary>Sentences of an audit, which name its methods, runs and logs.</summary>
    /// <param name="result">The results.</param>
    public Alike(AuditResult result)
    {
        foreach (var method in result.Methods)
        {
            _names.Set(method.Name, method.Name);
            _names.Set(PlainWords.Charging(method.Name, method.Kind), method.Name);
            foreach (var run in method.Runs)
            {
                _names.Add(run.Id);
            }
        }

        foreach (string file in result.Logs.SelectMany(l => l.Files.Append(string.Join(" + ", l.Files))))
        {
            _names.Add(file);
        }
    }

    /// <summary>The sentences, each of those that say the same once, in order of the first.</summary>
    /// <param name="sentences">The sentences.</param>
    public IReadOnlyList<string> Once(IEnumerable<string> sentences) =>
        [.. Groups([.. sentences.Select(s => new Named(null, s))]).Select(g => g.Text)];

    /// <summary>The same, each with the places in the list that it stands for.</summary>
    /// <param name="sentences">The sentences.</param>
    public IEnumerable<(string Text, IReadOnlyList<int> Of)> Groups(IReadOnlyList<Named> sentences)
    {
        var groups = new SentenceGroups();
        for (int i = 0; i < sentences.Count; i++)
        {
            groups.Add(new Said(sentences[i], _names), i);
        }

        return groups.All.Select(g => (Told([.. g.Select(s => s.Said)]), (IReadOnlyList<int>)[.. g.Select(s => s.At)]));
    }

    /// <summary>Names in a sentence; of many the first ones and a count.</summary>
    /// <param name="names">The names.</param>
    public static string Listed(IReadOnlyList<string> names) => PlainWords.Listed(names.Count <= MostNamed
        ? names
        : [.. names.Take(MostNamed - 1), $"{FigureText.Count(names.Count - MostNamed + 1)} more"]);

    private static string Told(List<Said> group)
    {
        var first = group[0];
        var same = Others(first, group.Where(s => s.Figures.SequenceEqual(first.Figures)));
        var unlike = group.Where(s => !s.Figures.SequenceEqual(first.Figures)).ToList();
        var other = Others(first, unlike).Except(same, StringComparer.Ordinal).ToList();
        string text = first.Name is { } name ? Listed([name, .. same]) + first.Rest : first.Text;
        string likewise = first.Name is not null || same.Count == 0 ? "" : $" Likewise for {Listed(same)}.";
        string names = other.Count == 0 ? "" : $" for {Listed(other)},";
        return text + likewise + (unlike.Count == 0 ? "" : $" Likewise{names} with {SaidFigure.InPlace(first.Figures, unlike)}.");
    }

    private static List<string> Others(Said first, IEnumerable<Said> group) =>
        [.. group.Select(s => s.OtherThan(first)).OfType<string>().Distinct(StringComparer.Ordinal)];

    /// <summary>A sentence about one thing, whose name stands before it or in it.</summary>
    /// <param name="Name">The name before it; null where it stands in the sentence.</param>
    /// <param name="Rest">The sentence after the name, with what joins the two.</param>
    public sealed record Named(string? Name, string Rest);
}

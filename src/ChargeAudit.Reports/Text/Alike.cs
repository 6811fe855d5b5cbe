using System.Text.RegularExpressions;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Text;

/// <summary>
/// Sentences that say the same of several methods, runs or logs, told once. The first is told in full and the names of the others follow.
/// Two sentences say the same where they differ in figures and in one name alone.
/// </summary>
internal sealed class Alike
{
    /// <summary>Pattern of a figure in a sentence.</summary>
    public const string Figure = @"\d+(?:[.,]\d+)?(?:E[+-]?\d+)?";
    private const int MostNamed = 4;

    private readonly Regex _parts;
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);

    /// <summary>Sentences of an audit, which name its methods, runs and logs.</summary>
    /// <param name="result">The results.</param>
    public Alike(AuditResult result)
    {
        foreach (var method in result.Methods)
        {
            _names[method.Name] = method.Name;
            _names[PlainWords.Charging(method.Name, method.Kind)] = method.Name;
            foreach (var run in method.Runs)
            {
                _names.TryAdd(run.Id, run.Id);
            }
        }

        foreach (string file in result.Logs.SelectMany(l => l.Files.Append(string.Join(" + ", l.Files))))
        {
            _names.TryAdd(file, file);
        }

        // The longest first: "pad-1" is not "pad".
        var known = _names.Keys.Where(n => n.Length > 0).OrderByDescending(n => n.Length).Select(Regex.Escape);
        _parts = new Regex($@"(?<name>(?<![\w.-])(?:{string.Join('|', known.Append("(?!)"))})(?![\w-]))|(?<figure>{Figure})",
            RegexOptions.CultureInvariant);
    }

    /// <summary>The sentences, each of those that say the same once, in order of the first.</summary>
    /// <param name="sentences">The sentences.</param>
    public IReadOnlyList<string> Once(IEnumerable<string> sentences) => [.. Groups([.. sentences]).Select(g => g.Text)];

    /// <summary>The same, each with the places in the list that it stands for.</summary>
    /// <param name="sentences">The sentences.</param>
    public IEnumerable<(string Text, IReadOnlyList<int> Of)> Groups(IReadOnlyList<string> sentences)
    {
        var groups = new List<List<(Said Said, int At)>>();
        for (int i = 0; i < sentences.Count; i++)
        {
            var said = new Said(sentences[i], _parts, _names);
            var group = groups.Find(g => g[0].Said.SaysTheSame(said));
            if (group is null)
            {
                groups.Add([(said, i)]);
            }
            else
            {
                group.Add((said, i));
            }
        }

        return groups.Select(g => (Told([.. g.Select(s => s.Said)]), (IReadOnlyList<int>)[.. g.Select(s => s.At)]));
    }

    /// <summary>Names in a sentence; of many the first ones and a count.</summary>
    /// <param name="names">The names.</param>
    /// <param name="others">What those are that are only counted, such as <c>more logs</c>.</param>
    public static string Listed(IReadOnlyList<string> names, string others = "more") => names.Count switch
    {
        1 => names[0],
        <= MostNamed => $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}",
        _ => $"{string.Join(", ", names.Take(MostNamed - 1))} and {FigureText.Count(names.Count - MostNamed + 1)} {others}",
    };

    private static string Told(List<Said> group)
    {
        var first = group[0];
        var same = Others(first, group.Where(s => s.Figures.SequenceEqual(first.Figures)));
        var other = Others(first, group).Except(same, StringComparer.Ordinal).ToList();
        return first.Text
            + (same.Count == 0 ? "" : $" Likewise for {Listed(same)}.")
            + (other.Count == 0 ? "" : $" Likewise, with other figures, for {Listed(other)}.");
    }

    private static List<string> Others(Said first, IEnumerable<Said> group) =>
        [.. group.Select(s => s.OtherThan(first)).OfType<string>().Distinct(StringComparer.Ordinal)];

    /// <summary>A sentence taken apart.</summary>
    private sealed class Said
    {
        private readonly string _frame;
        private readonly List<string> _named = [];

        public Said(string text, Regex parts, Dictionary<string, string> names)
        {
            Text = text;
            _frame = parts.Replace(WrittenMarks.Exact(text), found =>
            {
                bool isName = found.Groups["name"].Success;
                (isName ? _named : Figures).Add(isName ? names[found.Value] : found.Value);
                return isName ? "\u0001" : "\u0002";
            });
        }

        public string Text { get; }

        public List<string> Figures { get; } = [];

        /// <summary>Whether the other differs from this in figures and one name alone.</summary>
        public bool SaysTheSame(Said other) => _frame == other._frame && (other.Text == Text || Differing(other) == 1);

        /// <summary>The name in which this differs from the first sentence; null for none.</summary>
        public string? OtherThan(Said first) =>
            _named.Zip(first._named).Where(n => n.First != n.Second).Select(n => n.First).FirstOrDefault();

        private int Differing(Said other) => _named.Zip(other._named).Where(n => n.First != n.Second).Distinct().Count();
    }
}

using System.Text;

namespace ChargeAudit.Studies.Drafting;

/// <summary>
/// The ways of charging: one by cable and one on a pad, or more where different folders or words of one kind tell them apart.
/// </summary>
/// <param name="Methods">The methods, wired ones first, each kind in the order in which it was met.</param>
/// <param name="Names">For each charge or stretch of waiting the name of its method; null where nothing tells.</param>
internal sealed record MethodGuess(IReadOnlyList<DraftMethod> Methods, IReadOnlyList<string?> Names)
{
    /// <summary>Groups charges and waiting by method.</summary>
    public static MethodGuess Of(IReadOnlyList<KindOfBundle> kinds)
    {
        var keys = kinds.Select(k => k.Kind is { } kind ? (Kind: kind, Name: OwnName(k)) : ((MethodKind Kind, string? Name)?)null).ToList();
        var names = new string?[kinds.Count];
        var methods = new List<DraftMethod>();
        foreach (var kind in Enum.GetValues<MethodKind>())
        {
            var ofKind = Enumerable.Range(0, kinds.Count).Where(i => keys[i] is { } key && key.Kind == kind).ToList();
            var charged = ofKind.Where(i => kinds[i].Charge is not null && keys[i]!.Value.Name is not null)
                .Select(i => keys[i]!.Value.Name!).Distinct().ToList();
            string usual = charged.Count == 1 ? charged[0] : kind == MethodKind.Wired ? "cable" : "pad";
            foreach (int i in ofKind)
            {
                // Waiting under a name that no charge bears belongs to the only method of its kind.
                string? own = keys[i]!.Value.Name;
                names[i] = own is not null && charged.Contains(own) ? own : usual;
            }

            methods.AddRange(ofKind.Select(i => names[i]!).Distinct().Select(n => new DraftMethod(n, kind, charged.Count > 1
                ? [DraftRemark.Question(
                    $"Several methods {PlainWords.Charged(kind)} were told apart by their names: {string.Join(", ", charged)}. Are they "
                    + "different chargers?")]
                : [])));
        }

        return new MethodGuess(methods, names);
    }

    // A folder named for the charger names the method; else the word in the file's name does.
    private static string? OwnName(KindOfBundle kind)
    {
        var words = kind.Bundle.Logs.Select(l => l.Words).FirstOrDefault(w => w.Kind is not null);
        return words is null ? null : Key(words.KindFolder ?? words.KindWord!);
    }

    private static string Key(string text)
    {
        var key = new StringBuilder();
        foreach (char c in text.ToLowerInvariant())
        {
            key.Append(char.IsAsciiLetterOrDigit(c) ? c : '-');
        }

        return key.ToString().Trim('-') is { Length: > 0 } name ? name : "method";
    }
}

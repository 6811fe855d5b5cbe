using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Page;

/// <summary>Gives logs to methods by the names that a user says, in place of those that were guessed. Pure.</summary>
internal static class PageMethods
{
    /// <summary>The draft with its runs under the names that the user gave.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="said">Names of methods, by the names of logs; others keep their method.</param>
    /// <exception cref="InputException">One name was given to charges by cable and on a pad.</exception>
    public static StudyDraft Named(StudyDraft draft, IReadOnlyDictionary<string, string> said)
    {
        if (said.Count == 0)
        {
            return draft;
        }

        var kinds = draft.Methods.ToDictionary(m => m.Name, m => m.Kind);
        var named = new Dictionary<string, MethodKind>(StringComparer.Ordinal);
        DraftRun Under(DraftRun run)
        {
            string? name = run.Logs.Values.SelectMany(l => l.Files).Select(f => said.GetValueOrDefault(f))
                .FirstOrDefault(n => n is not null) ?? run.Method;
            if (name is null || run.Method is null)
            {
                return run;
            }

            var kind = kinds[run.Method];
            return !named.TryAdd(name, kind) && named[name] != kind
                ? throw new InputException(
                    InputProblem.Unusable, $"the method {name} has logs by cable and on a pad; give them different names")
                : run with { Method = name };
        }

        List<DraftRun> runs = [.. draft.Runs.Select(Under)], waiting = [.. draft.Standby.Select(Under)];
        var methods = named.OrderBy(n => n.Value).Select(n => draft.Methods.FirstOrDefault(m => m.Name == n.Key && m.Kind == n.Value)
            ?? new DraftMethod(
                n.Key, n.Value, [DraftRemark.Guess($"{n.Key}, {PlainWords.Charged(n.Value)}: the method that you named.")])).ToList();
        return draft with
        {
            Runs = runs,
            Standby = waiting,
            Methods = methods,
            Reference = methods.FirstOrDefault(m => m.Kind == MethodKind.Wired)?.Name,
        };
    }
}

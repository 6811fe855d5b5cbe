using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>One judgement: a reason why runs may not be comparable.</summary>
internal interface IFairnessRule
{
    /// <summary>What it finds.</summary>
    IEnumerable<FairnessNote> Judge(FairnessInput input);
}

/// <summary>What the judgements look at.</summary>
/// <param name="Methods">The methods of a study, the reference first.</param>
internal sealed record FairnessInput(IReadOnlyList<MethodResult> Methods)
{
    /// <summary>Each method with the runs that count.</summary>
    public IEnumerable<(MethodResult Method, IReadOnlyList<RunResult> Runs)> Counted =>
        Methods.Select(m => (m, (IReadOnlyList<RunResult>)[.. m.Runs.Where(r => r.Excluded is null)]));

    /// <summary>The other methods, each beside the reference.</summary>
    public IEnumerable<(
        (MethodResult Method, IReadOnlyList<RunResult> Runs) Reference,
        (MethodResult Method, IReadOnlyList<RunResult> Runs) Other)> Pairs
    {
        get
        {
            var counted = Counted.ToList();
            return counted.Skip(1).Select(other => (counted[0], other));
        }
    }
}

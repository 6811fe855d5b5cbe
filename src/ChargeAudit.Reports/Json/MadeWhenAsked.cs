using System.Collections;

namespace ChargeAudit.Reports.Json;

/// <summary>Records of a document that are made one by one while it is written, and not kept: there may be thousands.</summary>
/// <param name="results">What they are made of.</param>
/// <param name="make">Makes one.</param>
internal sealed class MadeWhenAsked<TResult, TRecord>(IReadOnlyList<TResult> results, Func<TResult, TRecord> make) : IReadOnlyList<TRecord>
{
    public int Count => results.Count;

    public TRecord this[int index] => make(results[index]);

    public IEnumerator<TRecord> GetEnumerator() => results.Select(make).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}

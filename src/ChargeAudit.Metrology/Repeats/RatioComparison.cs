using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>Two means compared by their ratio.</summary>
/// <param name="Ratio">The ratio; its interval is that of <paramref name="Set"/>, and it has none, with the reason, where the set is not
/// bounded.</param>
/// <param name="Set">The ratios that the data do not contradict, at 95 %; null where the uncertainty is not known.</param>
/// <param name="Note">What to tell the reader, as a sentence; null where there is nothing.</param>
public sealed record RatioComparison(Measured Ratio, RatioSet? Set, string? Note);

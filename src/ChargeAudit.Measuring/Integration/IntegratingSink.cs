using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Measuring.Integration;

/// <summary>Hands samples from a reader to the builder of a summary.</summary>
/// <param name="Summary">The builder that takes them.</param>
public readonly record struct IntegratingSink(LogSummary.Builder Summary) : IMergingSink<IntegratingSink>
{
    /// <inheritdoc/>
    public void Add(in Sample sample) => Summary.Add(in sample);

    /// <inheritdoc/>
    public void Add(in RowBlock rows) => Summary.Add(in rows);

    /// <inheritdoc/>
    public IntegratingSink ForLaterPiece(in IntegratingSink spent) => new(Summary.ForLaterPiece(spent.Summary));

    /// <inheritdoc/>
    public void Join(in IntegratingSink piece) => Summary.Join(piece.Summary);
}

namespace ChargeAudit.Measuring.Integration;

// Cells that are put away while they are not used.
public sealed partial class PowerEnvelope
{
    private RestingCells? _resting;

    private EnvelopeBucket[] Cells => _resting is { } resting ? resting.Cells() : _buckets;

    /// <summary>Leaves the cells to a shelf, which puts them away while they are not asked for; nothing may be added from then on. What is
    /// asked for stays the same to the last bit.</summary>
    /// <param name="shelf">The shelf.</param>
    internal void Rest(CellShelf shelf)
    {
        if (_resting is null)
        {
            _resting = new RestingCells(shelf, _buckets, Count);
            _buckets = [];
        }
    }
}

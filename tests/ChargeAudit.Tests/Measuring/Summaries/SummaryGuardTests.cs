using System.Reflection;
using System.Text.Json.Serialization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Tests.Measuring.Summaries;

/// <summary>Whoever adds to what a summary holds has to say here that its file holds it too, in <c>SummaryState</c> or by another
/// way.</summary>
public sealed class SummaryGuardTests
{
    public static TheoryData<Type, string> Held() => new()
    {
        { typeof(LogSummary), "_betweenRows _chargeC _counted _coveredS _dwelling _energyCounter _energyJ _energyTrail _envelope _finished "
            + "_first _fromS _gapFaults _hiddenAtFalls _implausible _last _marked _reversed _rules _run _running _takesBlocks _temperature "
            + "_voltSeconds CounterCoarsensAtS CounterStepJ CounterUnitChangesAt Gaps PeakPowerW ReversedJ Samples WithoutPower" },
        { typeof(PowerEnvelope), "_anchor _buckets _cell _cellFromS _cellToS _exponent _first _perSecond _resting "
            + "_roomAtFirst _widthS Count HoldsValues" },
        { typeof(EnvelopeBucket), "BridgedS ChargeC CoveredS EnergyJ MaxPowerW MinPowerW Readings SquaredCurrentS VoltSeconds" },
        { typeof(BetweenRows), "_rules OpeningW Pending Unseen" },
        { typeof(UnseenEnergy), "_cells" },
        { typeof(CounterTrail), "_before _count _fold _from _head _rising _settled _waiting IsUseless mostW" },
        { typeof(CounterFold), "_afterDropped _afterDroppedGap _gaps _points Bad Falls First Last Leaps Resets Seen" },
        { typeof(CounterPoints), "_exponent _kept _lastIsPinned" },
        { typeof(CounterPoint), "AfterGap Line ReadingJ Step TimeS" },
        { typeof(GapTally), "Count Longest OtherEnergies OtherProducts OtherSquares Time" },
        { typeof(GapRecord), "BridgeJ Contradicts CounterJ EnergyJ FromCounter FromS FromW Line MeanA ToS ToW" },
    };

    [Theory]
    [MemberData(nameof(Held))]
    public void All_that_a_part_of_a_summary_holds_is_known_to_its_file(Type type, string names)
    {
        string held = string.Join(' ', SameState.Fields(type).Select(SameState.NameOf).Order(StringComparer.Ordinal)
            .OrderBy(n => n.StartsWith('_') ? 0 : char.IsUpper(n[0]) ? 1 : 2));
        Assert.Equal(names, held);
    }

    // What is not public goes into the file only where an attribute says so.
    [Theory]
    [InlineData(typeof(LogLayout), "Hash Plan Reshape ReshapeFrom Spool Unpacked")]
    [InlineData(typeof(SummaryRules), "")]
    [InlineData(typeof(GapRecord), "")]
    [InlineData(typeof(MarkedStretch), "")]
    public void Only_what_the_reading_of_rows_needs_stays_out_of_the_file(Type type, string names)
    {
        var left = type.GetProperties(BindingFlags.Instance | BindingFlags.NonPublic)
            .Where(p => p.CanWrite && p.GetCustomAttribute<JsonIncludeAttribute>() is null).Select(p => p.Name)
            .Order(StringComparer.Ordinal);
        Assert.Equal(names, string.Join(' ', left));
    }
}

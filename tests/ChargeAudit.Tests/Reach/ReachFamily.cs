using ChargeAudit.LogMaker;

namespace ChargeAudit.Tests.Reach;

/// <summary>A kind of input: how one is made, and what the program does with it.</summary>
/// <param name="Name">Name in the table.</param>
/// <param name="Weight">How often it is drawn.</param>
/// <param name="Make">Makes an input.</param>
/// <param name="Answer">What comes of it: whatever is not an exception is an answer.</param>
public sealed record ReachFamily(string Name, double Weight, Func<Dice, byte[]> Make, Func<byte[], string> Answer)
{
    /// <summary>Mutations of one of some seeds.</summary>
    public static Func<Dice, byte[]> Mutations(params byte[][] seeds) => dice => Mutator.Change(dice.Of(seeds), dice.Of(seeds), dice);
}

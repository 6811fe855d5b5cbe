using ChargeAudit.LogMaker;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Reach;

/// <summary>What came of many inputs of one family.</summary>
/// <param name="Family">Name of the family.</param>
public sealed record ReachCount(string Family)
{
    public int Inputs { get; set; }

    public int Answered { get; set; }

    public int Refused { get; set; }

    public int Twice { get; set; }

    public double LongestS { get; set; }

    public long MostBytes { get; set; }
}

/// <summary>An input that was not answered as it should be.</summary>
/// <param name="Family">Name of its family.</param>
/// <param name="Number">Its number; with the seed it gives the input again.</param>
/// <param name="What">What happened.</param>
/// <param name="Input">The input.</param>
public sealed record ReachFailure(string Family, int Number, string What, byte[] Input);

/// <summary>Draws inputs by a seed, gives each to the program within this process and looks for what must not happen.</summary>
public sealed class ReachRun(ReachFamilies families, ulong seed, double longestS = ReachRun.LongestS)
{
    /// <summary>An answer that takes more of the processor is a hang. [s]</summary>
    public const double LongestS = 5;

    /// <summary>More may not be held for one input. [byte]</summary>
    public const long MostBytes = 300L << 20;

    private const int TwiceOneOf = 4;

    private readonly Dictionary<string, ReachCount> _counts = families.All.ToDictionary(f => f.Name, f => new ReachCount(f.Name));
    private readonly double _weights = families.All.Sum(f => f.Weight);

    /// <summary>Counts so far.</summary>
    public IReadOnlyCollection<ReachCount> Counts => _counts.Values;

    /// <summary>The input of a number.</summary>
    public (ReachFamily Family, byte[] Input) Input(int number, string? only = null)
    {
        var dice = new Dice(unchecked((seed * 1_000_003) + (ulong)number));
        double place = dice.Unit() * _weights;
        ReachFamily family = families.All.First(f => only is null ? (place -= f.Weight) < 0 || f == families.All[^1] : f.Name == only);
        return (family, family.Make(dice));
    }

    /// <summary>Gives one input to the program.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="only">Draw from this family; null: from all.</param>
    /// <returns>Null where all is well.</returns>
    public ReachFailure? Try(int number, string? only = null)
    {
        var (family, input) = Input(number, only);
        ReachCount count = _counts[family.Name];
        count.Inputs++;
        long before = GC.GetTotalAllocatedBytes();
        TimeSpan start = Environment.CpuUsage.TotalTime;
        (string answer, bool refused, string? fault) = Answer(family, input);
        double took = (Environment.CpuUsage.TotalTime - start).TotalSeconds;
        long used = GC.GetTotalAllocatedBytes() - before;
        count.LongestS = Math.Max(count.LongestS, took);
        count.Answered += refused ? 0 : 1;
        count.Refused += refused ? 1 : 0;
        if (fault is null && number % TwiceOneOf == 0)
        {
            count.Twice++;
            fault = Answer(family, input).Answer == answer ? null : "another answer the second time";
        }

        used = fault is null && used > MostBytes ? Held(family, input) : used;
        count.MostBytes = Math.Max(count.MostBytes, Math.Min(used, MostBytes));
        fault ??= took > longestS ? InvariantText.Of($"took {took:F1} s") : used > MostBytes
            ? InvariantText.Of($"held {used >> 20} MB")
            : null;
        return fault is null ? null : new ReachFailure(family.Name, number, fault, input);
    }

    // What was allocated in all is more than what was held at once; where it is too much, the input is tried again under a watch.
    private static long Held(ReachFamily family, byte[] input)
    {
        GC.Collect();
        long before = GC.GetTotalMemory(forceFullCollection: false);
        long most = before;
        var work = Task.Run(() => Answer(family, input));
        while (!work.Wait(1))
        {
            most = Math.Max(most, GC.GetTotalMemory(forceFullCollection: false));
        }

        return most - before;
    }

    private static (string Answer, bool Refused, string? Fault) Answer(ReachFamily family, byte[] input)
    {
        try
        {
            string answer = family.Answer(input);
            return (answer, !answer.StartsWith('0') && !answer.StartsWith('{')
                && !answer.StartsWith("200", StringComparison.Ordinal), null);
        }
        catch (InputException e)
        {
            return (e.Message, true, e.Message.Any(c => char.IsControl(c)) ? "a raw control character in the sentence" : null);
        }
#pragma warning disable CA1031 // Whatever else comes out is what is looked for.
        catch (Exception e)
#pragma warning restore CA1031
        {
            return ("", false, e.ToString());
        }
    }
}

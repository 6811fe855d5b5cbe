using System.Globalization;

namespace ChargeAudit.Benchmarks;

/// <summary><c>check [pairs]</c>: how often a check passes and fails, over simulated pairs of designs.</summary>
internal static class CheckCommand
{
    private const int LeastPairs = 100;

    public static int Run(string[] arguments, TextWriter output)
    {
        int pairs = 2000;
        if (arguments.Length > 1
            || (arguments.Length == 1 && !int.TryParse(arguments[0], NumberStyles.None, CultureInfo.InvariantCulture, out pairs))
            || pairs < LeastPairs)
        {
            output.WriteLine($"check takes the number of simulated pairs of designs a case, at least {LeastPairs}.");
            return 64;
        }

        CheckTable.Write(pairs, output);
        return 0;
    }
}

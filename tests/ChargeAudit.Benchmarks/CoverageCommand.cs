using System.Globalization;

namespace ChargeAudit.Benchmarks;

/// <summary><c>coverage [studies]</c>: how often the interval of the overhead ratio holds the truth, over simulated studies.</summary>
internal static class CoverageCommand
{
    private const int LeastStudies = 100;

    public static int Run(string[] arguments, TextWriter output)
    {
        int studies = 2000;
        if (arguments.Length > 1
            || (arguments.Length == 1 && !int.TryParse(arguments[0], NumberStyles.None, CultureInfo.InvariantCulture, out studies))
            || studies < LeastStudies)
        {
            output.WriteLine($"coverage takes the number of simulated studies a case, at least {LeastStudies}.");
            return 64;
        }

        output.Write(CoverageTable.Make(studies));
        return 0;
    }
}

using System.Globalization;
using ChargeAudit.Benchmarks;

switch (args)
{
    case ["coverage"]:
        Console.Write(CoverageTable.Make(2000));
        return 0;
    case ["coverage", var studies] when int.TryParse(studies, NumberStyles.None, CultureInfo.InvariantCulture, out int count) && count >= 100:
        Console.Write(CoverageTable.Make(count));
        return 0;
    default:
        Console.Error.WriteLine("Say what to run: 'coverage', or 'coverage N' with N (at least 100) simulated studies a case.");
        return 64;
}

using ChargeAudit.Benchmarks;
using ChargeAudit.Benchmarks.Modes;

switch (args)
{
    case ["modes", .. var rest]:
        return ModesCommand.Run(rest, Console.Out);
    case ["coverage", .. var rest]:
        return CoverageCommand.Run(rest, Console.Out);
    case ["check", .. var rest]:
        return CheckCommand.Run(rest, Console.Out);
    default:
        Console.Error.WriteLine("Say what to run: modes, coverage [studies], or check [pairs].");
        return 64;
}

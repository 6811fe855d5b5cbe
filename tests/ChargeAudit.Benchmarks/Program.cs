using ChargeAudit.Benchmarks;
using ChargeAudit.Benchmarks.Coverage;
using ChargeAudit.Benchmarks.Modes;
using ChargeAudit.Benchmarks.Reading;

switch (args)
{
    case ["modes", .. var rest]:
        return ModesCommand.Run(rest, Console.Out);
    case ["coverage", .. var rest]:
        return CoverageCommand.Run(rest, Console.Out);
    case ["coverage-logs", .. var rest]:
        return LogCoverageCommand.Run(rest, Console.Out);
    case ["odd-days", .. var rest]:
        return OddDaysCommand.Run(rest, Console.Out);
    case ["reading", .. var rest]:
        return ReadingCommand.Run(rest, Console.Out);
    case ["loops", .. var rest]:
        return HotLoops.Run(rest);
    case [PeerQuery.Name, var path]:
        return PeerQuery.Run(path, Console.Out);
    case ["pool", .. var rest]:
        return PoolCommand.Run(rest, Console.Out);
    case ["check", .. var rest]:
        return CheckCommand.Run(rest, Console.Out);
    default:
        Console.Error.WriteLine("Say what to run: modes, coverage [studies], coverage-logs, odd-days, reading [rows] [rounds] [long], loops, pool [pools], or check [pairs].");
        return 64;
}

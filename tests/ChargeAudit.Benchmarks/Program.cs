using ChargeAudit.Benchmarks;
using ChargeAudit.Benchmarks.Coverage;
using ChargeAudit.Benchmarks.Modes;
using ChargeAudit.Benchmarks.Packages;
using ChargeAudit.Benchmarks.Reach;
using ChargeAudit.Benchmarks.Reading;
using ChargeAudit.Benchmarks.Reliability;
using ChargeAudit.Benchmarks.Scale;

switch (args)
{
    case ["modes", .. var rest]:
        return ModesCommand.Run(rest, Console.Out);
    case ["coverage", .. var rest]:
        return CoverageCommand.Run(rest, Console.Out);
    case ["coverage-blocks", .. var rest]:
        return BlockCoverageCommand.Run(rest, Console.Out);
    case ["coverage-logs", .. var rest]:
        return LogCoverageCommand.Run(rest, Console.Out);
    case ["odd-days", .. var rest]:
        return OddDaysCommand.Run(rest, Console.Out);
    case ["reach-damage", .. var rest]:
        return ReachDamageCommand.Run(rest, Console.Out);
    case ["reach", .. var rest]:
        return ReachCommand.Run(rest, Console.Out);
    case ["reach-kills", .. var rest]:
        return ReachKillsCommand.Run(rest, Console.Out);
    case [ReachKillsCommand.Writer, var folder]:
        return ReachKillsCommand.Write(folder);
    case ["reach-page", .. var rest]:
        return ReachPageCommand.Run(rest, Console.Out);
    case ["reading", .. var rest]:
        return ReadingCommand.Run(rest, Console.Out);
    case ["scale", .. var rest]:
        return ScaleCommand.Run(rest, Console.Out);
    case ["loops", .. var rest]:
        return HotLoops.Run(rest);
    case [PeerQuery.Name, var path]:
        return PeerQuery.Run(path, Console.Out);
    case ["packages", .. var rest]:
        return PackagesCommand.Run(rest, Console.Out);
    case ["pool", .. var rest]:
        return PoolCommand.Run(rest, Console.Out);
    case ["check", .. var rest]:
        return CheckCommand.Run(rest, Console.Out);
    case ["drift", .. var rest]:
        return DriftCommand.Run(rest, Console.Out);
    default:
        Console.Error.WriteLine(
            "Say what to run: modes, coverage [studies], coverage-blocks [studies], coverage-logs, odd-days, reach, reach-damage, "
                + "reach-kills, reach-page, "
            + "reading [rows] [rounds] [long], scale [logs…] [PROGRAM], packages FOLDER [rounds], loops, pool [pools], check [pairs], or "
            + "drift [histories].");
        return 64;
}

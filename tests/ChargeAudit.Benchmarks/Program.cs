using ChargeAudit.Benchmarks.Modes;

return args switch
{
    ["modes", .. var rest] => ModesCommand.Run(rest, Console.Out),
    _ => 64,
};

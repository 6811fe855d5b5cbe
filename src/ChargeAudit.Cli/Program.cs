using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;

return await ChargeAuditProgram.RunAsync(args, CliHost.OfProcess());

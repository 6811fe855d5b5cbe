using ChargeAudit.Cli;

return await ChargeAuditProgram.RunAsync(args, CliHost.OfProcess());

using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Options;

/// <summary>The command line's own names for what would mend an input.</summary>
internal static class RemedyOptions
{
    /// <summary>A problem's sentence, and what to write on the command line.</summary>
    public static string Sentence(InputException problem) =>
        Of(problem.Remedy, problem.RemedyValue) is { } words ? $"{problem.Message.TrimEnd('.')} ({words})" : problem.Message;

    private static string? Of(Remedy remedy, string? value) => remedy switch
    {
        Remedy.Inspect => "chargeaudit inspect shows how a log is read",
        Remedy.Columns => value is null ? "on the command line: --columns" : $"on the command line: --columns {value}",
        Remedy.Series => value is null ? "on the command line: --series" : $"on the command line: --series {value}",
        Remedy.Interval => "on the command line: --interval SECONDS",
        Remedy.TimeZone => "on the command line: --timezone",
        Remedy.DateOrder => "on the command line: --date-order day-first or month-first",
        Remedy.Sign => "on the command line: --sign turned",
        Remedy.Gaps => "on the command line: --gaps bridge or --gaps exclude",
        Remedy.Strict => "on the command line: leave --strict out",
        Remedy.LogsOfBothKinds => "on the command line: --wired and --inductive",
        Remedy.Margin => "on the command line: --margin 2%",
        Remedy.History => "on the command line: --history",
        Remedy.ChargePower => "on the command line: --charge-power 8W",
        Remedy.Step => "on the command line: --step 10mW",
        Remedy.Repeatability => "on the command line: --repeatability 1%, or --from results.json",
        Remedy.Output => "on the command line: --out",
        Remedy.Overwrite => "on the command line: --out, or --overwrite",
        Remedy.Chart => "on the command line: --chart",
        Remedy.Trend => "on the command line: --trend",
        Remedy.Summarize => $"on the command line: chargeaudit summarize LOG --point {value} --out DIR",
        _ => null,
    };
}

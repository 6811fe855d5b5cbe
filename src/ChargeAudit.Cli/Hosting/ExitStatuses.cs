namespace ChargeAudit.Cli.Hosting;

/// <summary>What a command can tell the shell.</summary>
public static class ExitStatuses
{
    /// <summary>Those of a command, with what they mean.</summary>
    /// <param name="command">Its name.</param>
    public static IReadOnlyList<(int Status, string Meaning)> Of(string command) =>
    [
        (ExitStatus.Done, command == "check" ? "pass: the candidate uses no more than the margin allows" : "done"),
        .. command == "check"
            ? new[] { (ExitStatus.CheckFailed, "fail: the candidate uses more energy"),
                (ExitStatus.CheckInconclusive, "inconclusive: the runs do not decide it") }
            : [],
        (ExitStatus.Usage, "wrong usage"),
        (ExitStatus.UnusableInput, "input that cannot be used"),
        (ExitStatus.MissingInput, "a named file is missing or cannot be read"),
        (ExitStatus.ProgramFault, "a fault of the program itself"),
        (ExitStatus.CannotWrite, "output cannot be written"),
        (ExitStatus.Interrupted, "interrupted; nothing is left half-written"),
    ];
}

using ChargeAudit.Checking;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Hosting;

/// <summary>What the program tells the shell. Input problems follow the BSD <c>sysexits.h</c> numbers.</summary>
public static class ExitStatus
{
    /// <summary>Done, or check passed.</summary>
    public const int Done = 0;

    /// <summary>Check failed.</summary>
    public const int CheckFailed = 1;

    /// <summary>Check inconclusive.</summary>
    public const int CheckInconclusive = 2;

    /// <summary>Wrong usage.</summary>
    public const int Usage = 64;

    /// <summary>Input that cannot be used.</summary>
    public const int UnusableInput = 65;

    /// <summary>A named file is missing or unreadable.</summary>
    public const int MissingInput = 66;

    /// <summary>A fault of the program itself.</summary>
    public const int ProgramFault = 70;

    /// <summary>Output cannot be written.</summary>
    public const int CannotWrite = 73;

    /// <summary>Interrupted.</summary>
    public const int Interrupted = 130;

    /// <summary>The status of a check.</summary>
    public static int Of(CheckVerdict verdict) => verdict switch
    {
        CheckVerdict.Pass => Done,
        CheckVerdict.Fail => CheckFailed,
        _ => CheckInconclusive,
    };

    /// <summary>The status of an input problem.</summary>
    public static int Of(InputProblem problem) => problem switch
    {
        InputProblem.Usage => Usage,
        InputProblem.Unusable => UnusableInput,
        InputProblem.Missing => MissingInput,
        InputProblem.CannotWrite => CannotWrite,
        _ => ProgramFault,
    };
}

namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>Why an input or output cannot be used; each value has its own exit status.</summary>
public enum InputProblem
{
    /// <summary>The command was used wrongly.</summary>
    Usage,

    /// <summary>The input was read and cannot be used.</summary>
    Unusable,

    /// <summary>A named file is missing or cannot be read.</summary>
    Missing,

    /// <summary>A result cannot be written.</summary>
    CannotWrite,
}

/// <summary>
/// A problem that only the user can put right. The message is one sentence that names the file, the line, what was found, what was expected
/// and what to do; it reaches the user as it stands, without a stack trace. What it quotes is made safe to show.
/// </summary>
public sealed class InputException : Exception
{
    /// <summary>Makes a problem with its sentence.</summary>
    /// <param name="problem">What sort of problem it is.</param>
    /// <param name="message">The whole sentence for the user.</param>
    /// <param name="innerException">What the system reported, where it did.</param>
    public InputException(InputProblem problem, string message, Exception? innerException = null)
        : base(VisibleText.Of(message), innerException) => Problem = problem;

    /// <summary>What sort of problem it is.</summary>
    public InputProblem Problem { get; }

    /// <summary>What would put it right, where the calling program has its own name for that.</summary>
    public Remedy Remedy { get; init; }

    /// <summary>The value to give there, where that is known; null where it is not.</summary>
    public string? RemedyValue { get; init; }
}

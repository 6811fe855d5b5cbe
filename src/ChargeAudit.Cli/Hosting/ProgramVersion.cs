namespace ChargeAudit.Cli.Hosting;

/// <summary>The version of the program.</summary>
public static class ProgramVersion
{
    /// <summary>As <c>--version</c> prints it: with the commit that the program was built from.</summary>
    public static string Whole => BuiltVersion.Whole;

    /// <summary>As results and reports name it.</summary>
    public static string Text { get; } = Whole.Split('+')[0];
}

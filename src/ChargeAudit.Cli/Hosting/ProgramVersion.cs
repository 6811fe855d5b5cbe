using System.Reflection;

namespace ChargeAudit.Cli.Hosting;

/// <summary>The version of the program.</summary>
public static class ProgramVersion
{
    /// <summary>As <c>--version</c> prints it: with the commit that the program was built from.</summary>
    public static string Whole { get; } =
        typeof(ProgramVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion;

    /// <summary>As results and reports name it.</summary>
    public static string Text { get; } = Whole.Split('+')[0];
}

using System.Reflection;

namespace ChargeAudit.Cli.Hosting;

/// <summary>The version of the program.</summary>
public static class ProgramVersion
{
    /// <summary>As <c>--version</c> prints it.</summary>
    public static string Text { get; } =
        typeof(ProgramVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];
}

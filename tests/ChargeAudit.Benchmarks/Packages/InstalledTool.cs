using ChargeAudit.Benchmarks.Reading;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.Benchmarks.Packages;

/// <summary>The tool, installed from a folder of packages alone.</summary>
internal static class InstalledTool
{
    /// <summary>Installs one package by its own name, away from the user's tools.</summary>
    /// <returns>The program.</returns>
    /// <exception cref="InvalidOperationException">It cannot be installed.</exception>
    public static string From(string packages, string package, string folder)
    {
        string config = Path.Combine(folder, "nuget.config");
        File.WriteAllText(config,
            $"<configuration><packageSources><clear /><add key=\"packed\" value=\"{packages}\" /></packageSources></configuration>");
        string tools = Path.Combine(folder, package);
        WholeProcess.Time("dotnet", "tool", "install", package, "--version", ProgramVersion.Text, "--tool-path", tools, "--configfile",
            config);
        return Path.Combine(tools, "chargeaudit");
    }
}

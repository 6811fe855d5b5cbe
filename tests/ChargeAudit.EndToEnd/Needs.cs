namespace ChargeAudit.EndToEnd;

/// <summary>What some tests need of the machine. Without it they skip and say why; where skips are forbidden they fail.</summary>
internal static class Needs
{
    public static string OpenData()
    {
        string? folder = Environment.GetEnvironmentVariable("CHARGEAUDIT_OPEN_DATA");
        Require(Directory.Exists(folder), "CHARGEAUDIT_OPEN_DATA does not name the folder with the open data");
        return folder!;
    }

    public static string Browser()
    {
        string? browser = new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser" }.FirstOrDefault(File.Exists);
        Require(browser is not null, "there is no chromium on this machine");
        return browser!;
    }

    public static string Bash()
    {
        const string bash = "/bin/bash";
        Require(File.Exists(bash), "there is no bash on this machine");
        return bash;
    }

    public static string Program(string name)
    {
        string path = $"/usr/bin/{name}";
        Require(File.Exists(path), $"there is no {name} on this machine");
        return path;
    }

    public static string PowerShell() => Tool("pwsh", "PowerShell", "powershell");

    public static string NotebookKernel() => Tool("dotnet-interactive", ".NET kernel for notebooks", "Microsoft.dotnet-interactive");

    /// <summary>Python with pandas.</summary>
    public static string Pandas()
    {
        string python = Program("python3");
        Require(Run.Process(AppContext.BaseDirectory, python, "-c", "import pandas").Status == 0,
            "this machine's Python has no pandas (Debian's python3-pandas)");
        return python;
    }

    public static string Pseudoterminal()
    {
        const string script = "/usr/bin/script";
        Require(File.Exists(script), "there is no script(1) on this machine, which lends a terminal");
        return script;
    }

    public static void Signals() => Require(!OperatingSystem.IsWindows(), "this machine has no signals");

    private static string Tool(string command, string what, string package)
    {
        string home = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
        string name = OperatingSystem.IsWindows() ? $"{command}.exe" : command;
        string? path = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Append(Path.Combine(home, ".dotnet", "tools")).Select(f => Path.Combine(f, name)).FirstOrDefault(File.Exists);
        Require(path is not null, $"there is no {what} on this machine (dotnet tool install --global {package})");
        return path!;
    }

    private static void Require(bool met, string reason)
    {
        if (Environment.GetEnvironmentVariable("CHARGEAUDIT_NO_SKIPS") == "1")
        {
            Assert.True(met, $"{reason}, and skipping is forbidden here");
        }

        Assert.SkipUnless(met, reason);
    }
}

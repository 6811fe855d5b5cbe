namespace ChargeAudit.EndToEnd;

/// <summary>The page opens by itself in the browser that the system has for addresses, which is a script here that notes the address and
/// ends the page.</summary>
public sealed class PageOpensBrowserTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("", true)]
    [InlineData("--no-browser", false)]
    public void The_browser_opens_at_the_address_unless_none_is_wanted(string option, bool opens)
    {
        if (!OperatingSystem.IsLinux())
        {
            Assert.Skip("another system opens addresses by another program");
            return;
        }

        string browser = _folder.File("xdg-open", "#!/bin/sh\nprintf %s \"$1\" >\"$0.address\"\nkill -INT $PPID\n");
        File.SetUnixFileMode(browser, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        string path = $"{_folder.Path}{Path.PathSeparator}{Environment.GetEnvironmentVariable("PATH")}";
        string page = $"timeout -s INT {(opens ? 60 : 4)} dotnet {Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll")} page {option}";
        var run = Run.Process(_folder.Path, "/usr/bin/env", $"PATH={path}", Needs.Pseudoterminal(), "-qc", page, "/dev/null");
        Assert.Contains("http://127.0.0.1:", run.Output, StringComparison.Ordinal);
        Assert.Equal(opens, File.Exists($"{browser}.address"));
        if (opens)
        {
            Assert.Contains(File.ReadAllText($"{browser}.address"), run.Output, StringComparison.Ordinal);
        }
    }
}

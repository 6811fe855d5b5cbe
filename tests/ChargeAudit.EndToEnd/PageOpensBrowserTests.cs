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

        string browser = _folder.File("xdg-open", "#!/bin/sh\nprintf %s \"$1\" >\"$0.address\"\nkill -TERM $PPID\n");
        File.SetUnixFileMode(browser, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        string path = $"{_folder.Path}{Path.PathSeparator}{Environment.GetEnvironmentVariable("PATH")}";

        // Once the address stands on the terminal, a second is left for a browser that should not come, and then the page is ended. The
        // record of the terminal begins with this command, which is not to be found in it.
        const string end =
            "(for i in $(seq 600); do sleep 0.2; if grep -q 'http:/[/]' shown; then sleep 1; break; fi; done; kill -TERM $$) & ";
        string page = $"{(opens ? "" : end)}exec dotnet {Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll")} page {option}";
        var run = Run.Process(_folder.Path, "/usr/bin/env", $"PATH={path}", "SHELL=/bin/sh", Needs.Pseudoterminal(), "-qfec", page,
            "shown");
        Assert.Equal(0, run.Status);
        Assert.Contains("http://127.0.0.1:", run.Output, StringComparison.Ordinal);
        Assert.Equal(opens, File.Exists($"{browser}.address"));
        if (opens)
        {
            Assert.Contains(File.ReadAllText($"{browser}.address"), run.Output, StringComparison.Ordinal);
        }
    }
}

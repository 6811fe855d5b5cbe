using System.Diagnostics;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>The local page as a process of its own, with a temporary folder of its own.</summary>
internal sealed class PageProcess : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly Process _process;

    private PageProcess()
    {
        var start = Run.Interruptible("page");
        start.Environment["TMPDIR"] = _folder.Path;
        _process = Process.Start(start)!;
        Address = new Uri("about:blank");
    }

    public Uri Address { get; private set; }

    /// <summary>Folders that the page made, and files in them.</summary>
    public string[] Taken =>
        [.. Directory.GetDirectories(_folder.Path, "chargeaudit-page-*").SelectMany(Directory.GetFiles)
        .Where(f => Path.GetFileName(f) != "in-use")];

    public string[] Folders => Directory.GetDirectories(_folder.Path, "chargeaudit-page-*");

    /// <summary>Everything under the temporary folder but the runtime's own pipes.</summary>
    public string Folder => _folder.Path;

    public static async Task<PageProcess> StartAsync()
    {
        var page = new PageProcess();
        string? line = await page._process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken).AsTask()
            .WaitAsync(TimeSpan.FromMinutes(1));
        page.Address = new Uri(line!);
        return page;
    }

    public async Task<int> InterruptAsync()
    {
        Assert.Equal(0, Run.Process(_folder.Path, "kill", "-INT", InvariantText.Of($"{_process.Id}")).Status);
        await _process.WaitForExitAsync(TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(30));
        return _process.ExitCode;
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
            _process.WaitForExit();
        }

        _process.Dispose();
        _folder.Dispose();
    }
}

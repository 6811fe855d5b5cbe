using System.Net;
using System.Net.Http.Headers;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>The local page against those who mean ill, or do what nobody thought of.</summary>
public sealed class PageAttackTests : IAsyncLifetime
{
    private readonly HttpClient _client = new(new SocketsHttpHandler { UseProxy = false, UseCookies = false });
    private PageProcess _page = null!;

    public async ValueTask InitializeAsync() => _page = await PageProcess.StartAsync();

    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        _page.Dispose();
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task Without_the_token_or_from_elsewhere_nothing_is_answered()
    {
        string root = _page.Address.GetLeftPart(UriPartial.Authority);
        Assert.Equal(200, (await SendAsync("GET", _page.Address)).Status);
        foreach (string path in (string[])["/", "/log", $"/{new string('0', 64)}/", $"{_page.Address.AbsolutePath.ToUpperInvariant()}"])
        {
            Assert.Equal(403, (await SendAsync("GET", new Uri(root + path))).Status);
        }

        Assert.Equal(421, (await SendAsync("GET", _page.Address, r => r.Headers.Host = $"attacker.example:{_page.Address.Port}")).Status);
        Assert.Equal(403, (await SendAsync("POST", At("clear"), r => r.Headers.Add("Origin", "http://attacker.example"))).Status);
        Assert.Equal(403, (await SendAsync("POST", At("clear"), r => r.Headers.Add("Origin", "null"))).Status);
        Assert.Equal(403, (await SendAsync("GET", _page.Address, r => r.Headers.Add("Sec-Fetch-Site", "cross-site"))).Status);
        Assert.Equal(405, (await SendAsync("DELETE", At("log"))).Status);
        Assert.Equal(405, (await SendAsync("GET", At("clear"))).Status);
        Assert.Equal(404, (await SendAsync("GET", At("%2e%2e%2f%2e%2e%2fetc%2fpasswd"))).Status);
        Assert.Equal(404, (await SendAsync("GET", At("report.html"))).Status);
        Assert.StartsWith("HTTP/1.1 400", await RawAsync($"GET {_page.Address.AbsolutePath} HTTP/1.1\r\nConnection: close\r\n\r\n"),
            StringComparison.Ordinal);
        Assert.Contains("HTTP/1.1 403",
            await RawAsync(
                $"GET {_page.Address.AbsolutePath}../../etc/passwd HTTP/1.1\r\nHost: {_page.Address.Authority}\r\nConnection: "
            + "close\r\n\r\n"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_forbids_frames_foreign_scripts_and_keeping()
    {
        using var response = await _client.GetAsync(_page.Address, TestContext.Current.CancellationToken);
        string policy = response.Headers.GetValues("Content-Security-Policy").Single();
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Equal("no-referrer", response.Headers.GetValues("Referrer-Policy").Single());
        Assert.True(response.Headers.CacheControl!.NoStore);
        Assert.False(response.Headers.Contains("Access-Control-Allow-Origin"));
        Assert.False(response.Headers.Contains("Server"));
    }

    [Theory]
    [InlineData("../../outside.csv", "outside.csv")]
    [InlineData("/tmp/outside.csv", "outside.csv")]
    [InlineData("..\\outside.csv", "outside.csv")]
    [InlineData("out\0side.csv", "outside.csv")]
    [InlineData("<script>alert(1)<script>.csv", "<script>alert(1)<script>.csv")]
    public async Task No_name_from_outside_reaches_the_disk(string sent, string shown)
    {
        var (status, json) = await SendLogAsync(sent, await SampleAsync());
        Assert.Equal((200, shown), (status, json.GetProperty("logs")[0].GetProperty("name").GetString()));
        string file = Assert.Single(_page.Taken);
        Assert.Matches("^[0-9a-f]{32}\\.csv$", Path.GetFileName(file));
        Assert.Empty(Directory.GetFiles(_page.Folder, "*outside*", SearchOption.AllDirectories));
        Assert.False(File.Exists("/tmp/outside.csv"));
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
                File.GetUnixFileMode(_page.Folders.Single()));
        }
    }

    [Fact]
    public async Task Too_long_a_name_is_refused_or_cut()
    {
        var (status, json) = await SendLogAsync(new string('x', 4000) + ".csv", await SampleAsync());
        Assert.Equal(200, status);
        Assert.True(json.GetProperty("logs")[0].GetProperty("name").GetString()!.Length < 130);
        Assert.Equal(431, (await SendAsync("POST", At("log"), r => r.Headers.Add("X-File-Name", new string('x', 40_000)))).Status);
    }

    [Fact]
    public async Task Too_large_a_file_is_refused_before_it_comes_and_while_it_comes()
    {
        string head = $"POST {_page.Address.AbsolutePath}log HTTP/1.1\r\nHost: {_page.Address.Authority}\r\nConnection: close\r\n";
        string announced = await RawAsync($"{head}Content-Length: {(64 * 1024 * 1024) + 1}\r\n\r\n");
        Assert.StartsWith("HTTP/1.1 413", announced, StringComparison.Ordinal);
        Assert.Contains("64 MB", announced, StringComparison.Ordinal);

        using var socket = await ConnectAsync(IPAddress.Loopback);
        await socket.SendAsync(Encoding.ASCII.GetBytes($"{head}Transfer-Encoding: chunked\r\n\r\n"));
        byte[] chunk = [.. Encoding.ASCII.GetBytes("100000\r\n"), .. new byte[0x100000], .. Encoding.ASCII.GetBytes("\r\n")];
        try
        {
            for (int i = 0; i < 66; i++)
            {
                await socket.SendAsync(chunk);
            }
        }
        catch (SocketException)
        {
            // The program may hang up while the rest is still on its way.
        }

        Assert.Contains("HTTP/1.1 413", await ReadAsync(socket), StringComparison.Ordinal);
        Assert.Empty(_page.Taken);
    }

    [Fact]
    public async Task Too_many_files_are_refused()
    {
        byte[] log = Encoding.ASCII.GetBytes("time_s,power_W\n0,5\n1,5\n2,5\n3,5\n4,5\n5,5\n6,5\n7,5\n8,5\n9,5\n");
        for (int i = 0; i < 64; i++)
        {
            Assert.Equal(200, (await SendLogAsync("a.csv", log)).Status);
        }

        var (status, json) = await SendLogAsync("a.csv", log);
        Assert.Equal(413, status);
        Assert.Contains("at most 64", json.GetProperty("error").GetString(), StringComparison.Ordinal);
        Assert.Equal(64, _page.Taken.Length);
    }

    [Fact]
    public async Task What_is_no_log_is_refused_with_a_sentence_and_leaves_nothing()
    {
        var (status, json) = await SendLogAsync("notes.txt", Encoding.UTF8.GetBytes("The pad gets warm."));
        Assert.Equal(422, status);
        string error = json.GetProperty("error").GetString()!;
        Assert.Contains("notes.txt", error, StringComparison.Ordinal);
        Assert.DoesNotContain(_page.Folder, error, StringComparison.Ordinal);
        Assert.Empty(_page.Taken);
        Assert.Equal(400, (await SendAsync("POST", At("make"), r => r.Content = new StringContent("{"))).Status);
        Assert.Equal(413, (await SendAsync("POST", At("make"), r => r.Content = new StringContent(new string(' ', 70_000)))).Status);
    }

    [Fact]
    public async Task Only_this_machine_is_answered()
    {
        var others = NetworkInterface.GetAllNetworkInterfaces().SelectMany(i => i.GetIPProperties().UnicastAddresses)
            .Select(a => a.Address).Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a)).ToList();
        foreach (var other in others)
        {
            await Assert.ThrowsAsync<SocketException>(() => ConnectAsync(other));
        }

        var listening = IPGlobalProperties.GetIPGlobalProperties().GetActiveTcpListeners().Where(l => l.Port == _page.Address.Port);
        Assert.Equal(IPAddress.Loopback, Assert.Single(listening).Address);
    }

    [Fact]
    public async Task Connections_that_say_nothing_keep_nobody_out_and_are_closed()
    {
        List<Socket> silent = [];
        for (int i = 0; i < 60; i++)
        {
            silent.Add(await ConnectAsync(IPAddress.Loopback));
        }

        Assert.Equal(200, (await SendAsync("GET", _page.Address)).Status);
        Assert.Equal("", await ReadAsync(silent[0]));
        silent.ForEach(s => s.Dispose());
    }

    [Fact]
    public async Task An_upload_that_stops_keeps_nobody_out_and_leaves_nothing()
    {
        using var slow = await ConnectAsync(IPAddress.Loopback);
        await slow.SendAsync(
            Encoding.ASCII.GetBytes(
                $"POST {_page.Address.AbsolutePath}log HTTP/1.1\r\nHost: {_page.Address.Authority}\r\nContent-Length: "
            + "100000\r\n\r\ntime_s,"));
        Assert.Equal(200, (await SendLogAsync("a.csv", await SampleAsync())).Status);
        await ReadAsync(slow);
        for (int i = 0; i < 50 && _page.Taken.Length > 1; i++)
        {
            await Task.Delay(100, TestContext.Current.CancellationToken);
        }

        Assert.Single(_page.Taken);
    }

    [Fact]
    public async Task An_interrupt_ends_it_and_takes_the_logs_away()
    {
        Needs.Signals();
        await SendLogAsync("a.csv", await SampleAsync());
        Assert.Single(_page.Taken);
        Assert.Equal(0, await _page.InterruptAsync());
        Assert.Empty(_page.Folders);
    }

    private Uri At(string path) => new(_page.Address, path);

    private static Task<byte[]> SampleAsync() =>
        File.ReadAllBytesAsync(Path.Combine(Repository.SampleLogs, "cable-1-wall.csv"), TestContext.Current.CancellationToken);

    private async Task<(int Status, JsonElement Json)> SendLogAsync(string name, byte[] content)
    {
        var (status, text) = await SendAsync("POST", At("log"), r =>
        {
            r.Headers.Add("X-File-Name", Uri.EscapeDataString(name));
            r.Content = new ByteArrayContent(content);
            r.Content.Headers.ContentType = new MediaTypeHeaderValue("text/csv");
        });
        return (status, JsonDocument.Parse(text).RootElement);
    }

    private async Task<(int Status, string Text)> SendAsync(string method, Uri address, Action<HttpRequestMessage>? change = null)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), address);
        change?.Invoke(request);
        using var response = await _client.SendAsync(request, TestContext.Current.CancellationToken);
        return ((int)response.StatusCode, await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private async Task<string> RawAsync(string request)
    {
        using var socket = await ConnectAsync(IPAddress.Loopback);
        await socket.SendAsync(Encoding.ASCII.GetBytes(request));
        return await ReadAsync(socket);
    }

    private async Task<Socket> ConnectAsync(IPAddress address)
    {
        var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            await socket.ConnectAsync(address, _page.Address.Port).WaitAsync(TimeSpan.FromSeconds(10));
            return socket;
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    private static async Task<string> ReadAsync(Socket socket)
    {
        var text = new StringBuilder();
        byte[] buffer = new byte[4096];
        try
        {
            for (int read; (read = await socket.ReceiveAsync(buffer).WaitAsync(TimeSpan.FromSeconds(20))) > 0;)
            {
                text.Append(Encoding.UTF8.GetString(buffer, 0, read));
            }
        }
        catch (SocketException) when (text.Length > 0)
        {
            // Hung up after the answer.
        }

        return text.ToString();
    }
}

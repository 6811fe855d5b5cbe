using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using ChargeAudit.LogMaker;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Reach;

namespace ChargeAudit.Benchmarks.Reach;

/// <summary>
/// <c>reach-page --rounds N --seed S</c>: a day of use of the local page, played fast: logs good and bad, uploads that are broken off,
/// connections that say nothing, reports, reloads, new beginnings. Every answer is timed, and the memory of the page's process is looked
/// at.
/// </summary>
internal static class ReachPageCommand
{
    // The first rounds fill caches and compile.
    private const int WarmRounds = 20;
    private const long MostGrowth = 64L << 20;
    private const double LongestS = 30;

    public static int Run(string[] arguments, TextWriter output)
    {
        int rounds = int.Parse(ReachCommand.Of(arguments, "--rounds") ?? "200", CultureInfo.InvariantCulture);
        var dice = new Dice(ulong.Parse(ReachCommand.Of(arguments, "--seed") ?? "1", CultureInfo.InvariantCulture));
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"));
        start.ArgumentList.Add("page");
        using Process page = Process.Start(start)!;
        try
        {
            return PlayAsync(new Uri(page.StandardOutput.ReadLine()!), page, rounds, dice, output).GetAwaiter().GetResult();
        }
        finally
        {
            page.Kill();
            page.WaitForExit();
        }
    }

    private static async Task<int> PlayAsync(Uri address, Process page, int rounds, Dice dice, TextWriter output)
    {
        using var client = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(130) };
        byte[] cable = Log(5);
        byte[] pad = Log(7.5);
        var count = new Dictionary<int, int>();
        double longestS = 0;
        long early = 0;
        int bad = 0;
        List<Socket> silent = [];
        for (int round = 0; round < rounds; round++)
        {
            await AskAsync(HttpMethod.Get, "", null, null);
            await AskAsync(HttpMethod.Post, "clear", [], null);
            string one = await AskAsync(HttpMethod.Post, "log", cable, "cable.csv");
            await AskAsync(HttpMethod.Post, "log", Mutator.Change(cable, pad, dice), "other.csv");
            string two = await AskAsync(HttpMethod.Post, "log", pad, "pad.csv");
            silent.Add(await SilentAsync(address, dice.Chance(0.5)
                ? ""
                : $"POST {address.AbsolutePath}log HTTP/1.1\r\nHost: {address.Authority}\r\nContent-Length: 1000000\r\n\r\ntime"));
            if (round % 10 == 9)
            {
                silent.ForEach(s => s.Dispose());
                silent.Clear();
            }

            string state = await AskAsync(HttpMethod.Get, "state", null, null);
            var logs = JsonDocument.Parse(state).RootElement.GetProperty("logs").EnumerateArray()
                .Where(l => l.GetProperty("name").GetString() is "cable.csv" or "pad.csv")
                .Select(l =>
                    $"{{\"id\":\"{l.GetProperty("id").GetString()}\",\"kind\":\""
                        + $"{(l.GetProperty("name").GetString() == "pad.csv" ? "inductive" : "wired")}\",\"point\":\"usb\"}}");
            await AskAsync(HttpMethod.Post, "make",
                ReachSeeds.Bytes(
                    $"{{\"logs\":[{string.Join(',', logs)}],\"price\":{(dice.Chance(0.8) ? "0.31" : "-5")},\"currency\":\"EUR\"}}"), null);
            await AskAsync(HttpMethod.Get, "report.html", null, null);
            bad += one.Contains("cable.csv", StringComparison.Ordinal) && two.Contains("pad.csv", StringComparison.Ordinal) ? 0 : 1;
            page.Refresh();
            early = round == Math.Min(WarmRounds, rounds / 2) ? page.WorkingSet64 : early;
        }

        silent.ForEach(s => s.Dispose());
        page.Refresh();
        long late = page.WorkingSet64;
        output.WriteLine(
            "| rounds | answers | of them refused with a sentence | faults | longest [s] | memory early [MB] | at the end [MB] | "
            + "most [MB] |");
        output.WriteLine("|---|---|---|---|---|---|---|---|");
        output.WriteLine(InvariantText.Of(
            $"| {rounds} | {count.Values.Sum()} | {count.Where(c => c.Key is >= 400 and < 500).Sum(c => c.Value)} | "
                + $"{count.Where(c => c.Key >= 500).Sum(c => c.Value) + bad} | {longestS:F1} | {early >> 20} | {late >> 20} | "
                + $"{page.PeakWorkingSet64 >> 20} |"));
        return bad == 0 && count.Keys.All(s => s < 500) && late - early < MostGrowth && longestS < LongestS ? 0 : 1;

        async Task<string> AskAsync(HttpMethod method, string path, byte[]? body, string? name)
        {
            using var request = new HttpRequestMessage(method, path);
            if (body is not null)
            {
                request.Content = new ByteArrayContent(body);
            }

            if (name is not null)
            {
                request.Headers.Add("X-File-Name", name);
            }

            long from = Stopwatch.GetTimestamp();
            using HttpResponseMessage answer = await client.SendAsync(request);
            string text = await answer.Content.ReadAsStringAsync();
            longestS = Math.Max(longestS, Stopwatch.GetElapsedTime(from).TotalSeconds);
            count[(int)answer.StatusCode] = count.GetValueOrDefault((int)answer.StatusCode) + 1;
            return text;
        }
    }

    private static async Task<Socket> SilentAsync(Uri address, string begun)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        await socket.ConnectAsync(IPAddress.Loopback, address.Port);
        await socket.SendAsync(Encoding.ASCII.GetBytes(begun));
        return socket;
    }

    private static byte[] Log(double powerW) =>
        ReachSeeds.Bytes("time (s),U (V),I (A)\n"
            + ReachSeeds.Rows(400, i => $"{i},5.00{i % 10},{(i < 300 ? powerW / 5 : 0.01) + (i % 7 * 0.001):0.000}"));
}

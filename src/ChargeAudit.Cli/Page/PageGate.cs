using System.Security.Cryptography;
using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Page;

/// <summary>What of a request decides whether it is let in.</summary>
/// <param name="Method">Method, such as GET.</param>
/// <param name="Path">Path, decoded.</param>
/// <param name="Host">The Host header.</param>
/// <param name="Origin">The Origin header; null where there is none.</param>
/// <param name="FetchSite">The Sec-Fetch-Site header; null where there is none.</param>
public sealed record PageRequest(string Method, string Path, string? Host, string? Origin = null, string? FetchSite = null);

/// <summary>Why a request is turned away.</summary>
/// <param name="Status">HTTP status.</param>
/// <param name="Sentence">One sentence.</param>
public sealed record PageRefusal(int Status, string Sentence);

/// <summary>Decides which requests are let in. Pure.</summary>
/// <remarks>
/// The token is the first part of every path and is kept nowhere else. A cookie would be sent along with any request, and to every port of
/// this machine. *Source:* RFC 6265, 8.5 (cookies do not tell ports apart); RFC 9110, 15.5.20 (421).
/// </remarks>
public sealed class PageGate
{
    private static readonly Dictionary<string, string> MethodByName = new(StringComparer.Ordinal)
    {
        [PagePaths.Start] = "GET",
        [PagePaths.Report] = "GET",
        [PagePaths.Save] = "GET",
        [PagePaths.State] = "GET",
        [PagePaths.Log] = "POST",
        [PagePaths.Clear] = "POST",
        [PagePaths.Remove] = "POST",
        [PagePaths.Read] = "POST",
        [PagePaths.Say] = "POST",
        [PagePaths.Make] = "POST",
    };

    private readonly byte[] _token;
    private readonly string[] _hosts;

    /// <summary>A gate.</summary>
    /// <param name="token">The secret part of the address.</param>
    /// <param name="port">The port.</param>
    public PageGate(string token, int port)
    {
        _token = Encoding.UTF8.GetBytes(token);
        _hosts = [InvariantText.Of($"127.0.0.1:{port}"), InvariantText.Of($"localhost:{port}")];
    }

    /// <summary>A token of 256 random bits, in letters that an address may hold.</summary>
    public static string NewToken() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));

    /// <summary>Why a request is turned away; null where it is let in.</summary>
    /// <param name="request">The request.</param>
    /// <param name="name">What it asks for: one of <see cref="PagePaths"/>; empty where it is turned away, or asks for the page.</param>
    public PageRefusal? Refusal(PageRequest request, out string name)
    {
        ArgumentNullException.ThrowIfNull(request);
        name = "";
        if (request.Host is not { } host || !_hosts.Contains(host, StringComparer.OrdinalIgnoreCase))
        {
            return new PageRefusal(421, "This page answers to its own address only.");
        }

        if (request.Origin is { } origin && !origin.Equals($"http://{host}", StringComparison.OrdinalIgnoreCase))
        {
            return new PageRefusal(403, "Requests from other sites are refused.");
        }

        if (request.FetchSite is not (null or "same-origin" or "none"))
        {
            return new PageRefusal(403, "Requests from other sites are refused.");
        }

        int slash = request.Path.Length > 0 ? request.Path.IndexOf('/', 1) : -1;
        string token = slash > 0 ? request.Path[1..slash] : "";
        if (!CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(token), _token))
        {
            return new PageRefusal(403, "The address is not whole; open the one that chargeaudit page printed.");
        }

        string asked = request.Path[(slash + 1)..];
        if (!MethodByName.TryGetValue(asked, out string? method))
        {
            return new PageRefusal(404, "There is no such page.");
        }

        if (request.Method != method)
        {
            return new PageRefusal(405, $"Only {method} is answered here.");
        }

        name = asked;
        return null;
    }
}

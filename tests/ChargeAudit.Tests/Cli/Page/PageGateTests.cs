using ChargeAudit.Cli.Page;

namespace ChargeAudit.Tests.Cli.Page;

/// <summary>Who is let in to the local page.</summary>
public sealed class PageGateTests
{
    private const string Token = "0123abcd";
    private static readonly PageGate Gate = new(Token, 5123);
    private static readonly PageRequest Own = new("GET", $"/{Token}/", "127.0.0.1:5123", null, "none");

    [Fact]
    public void The_own_page_is_let_in_and_knows_what_is_asked_for()
    {
        Assert.Null(Gate.Refusal(Own, out string name));
        Assert.Equal(PagePaths.Start, name);
        Assert.Null(
            Gate.Refusal(Own with { Method = "POST", Path = $"/{Token}/log", Origin = "http://127.0.0.1:5123", FetchSite = "same-origin" },
            out name));
        Assert.Equal(PagePaths.Log, name);
        Assert.Null(Gate.Refusal(Own with { Host = "localhost:5123", Origin = "http://localhost:5123" }, out _));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("127.0.0.1")]
    [InlineData("127.0.0.1:80")]
    [InlineData("attacker.example:5123")]
    [InlineData("127.0.0.1:5123.attacker.example")]
    public void Another_host_name_is_turned_away_before_the_token_is_looked_at(string? host) =>
        Assert.Equal(421, Status(Own with { Host = host }));

    [Theory]
    [InlineData("null")]
    [InlineData("")]
    [InlineData("https://127.0.0.1:5123")]
    [InlineData("http://127.0.0.1:5124")]
    [InlineData("http://attacker.example")]
    public void Another_origin_is_turned_away(string origin) => Assert.Equal(403, Status(Own with { Origin = origin }));

    [Theory]
    [InlineData("cross-site")]
    [InlineData("same-site")]
    [InlineData("")]
    public void What_another_site_started_is_turned_away(string site) => Assert.Equal(403, Status(Own with { FetchSite = site }));

    [Theory]
    [InlineData("/")]
    [InlineData("")]
    [InlineData("/log")]
    [InlineData("//")]
    [InlineData("/0123abcd")]
    [InlineData("/0123abcD/")]
    [InlineData("/0123abc/")]
    [InlineData("/0123abcd0/")]
    public void Without_the_whole_token_nothing_is_answered(string path) => Assert.Equal(403, Status(Own with { Path = path }));

    [Theory]
    [InlineData("GET", "../etc/passwd", 404)]
    [InlineData("GET", "log/", 404)]
    [InlineData("GET", "log", 405)]
    [InlineData("POST", "report.html", 405)]
    [InlineData("PUT", "log", 405)]
    [InlineData("HEAD", "", 405)]
    public void Only_known_paths_are_answered_and_each_by_one_method(string method, string name, int status) =>
        Assert.Equal(status, Status(Own with { Method = method, Path = $"/{Token}/{name}" }));

    [Fact]
    public void A_token_has_256_bits_and_is_never_the_same()
    {
        Assert.Equal(64, PageGate.NewToken().Length);
        Assert.NotEqual(PageGate.NewToken(), PageGate.NewToken());
    }

    private static int? Status(PageRequest request)
    {
        var refusal = Gate.Refusal(request, out string name);
        Assert.Equal("", name);
        Assert.EndsWith(".", refusal?.Sentence, StringComparison.Ordinal);
        return refusal?.Status;
    }
}

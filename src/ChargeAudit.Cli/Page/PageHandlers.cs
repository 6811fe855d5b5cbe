using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using Microsoft.AspNetCore.Http;

namespace ChargeAudit.Cli.Page;

/// <summary>Answers requests: the gate, then one of the few things that can be asked for. Every error is one sentence.</summary>
/// <param name="gate">Decides who is let in.</param>
/// <param name="session">Holds the logs.</param>
public sealed class PageHandlers(PageGate gate, PageSession session)
{
    // Scripts of the report run in a world of their own: they see neither the page nor its address.
    private const string ReportPolicy =
        "sandbox allow-scripts; default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; font-src data:; img-src data:; "
            + "base-uri 'none'; form-action 'none'; frame-ancestors 'self'";

    /// <summary>Answers one request.</summary>
    /// <param name="context">The request.</param>
    public async Task AnswerAsync(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        var headers = context.Response.Headers;
        headers.CacheControl = "no-store";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers.ContentSecurityPolicy = "default-src 'none'; frame-ancestors 'none'";
        var asked = context.Request;
        var request = new PageRequest(asked.Method, asked.Path.Value
            ?? "", asked.Host.Value, Header(asked, "Origin"), Header(asked, "Sec-Fetch-Site"));
        try
        {
            if (gate.Refusal(request, out string name) is { } refusal)
            {
                await FailAsync(context, refusal.Status, refusal.Sentence).ConfigureAwait(false);
                return;
            }

            await AnswerAsync(context, name).ConfigureAwait(false);
        }
        catch (PageException e)
        {
            await FailAsync(context, e.Status, e.Message, e.MeantPrice).ConfigureAwait(false);
        }
        catch (InputException e)
        {
            await FailAsync(context, 422, e.Message.EndsWith('?') ? e.Message : $"{e.Message.TrimEnd('.')}.").ConfigureAwait(false);
        }
        catch (JsonException)
        {
            await FailAsync(context, 400, "The answers of the page could not be read; load it again.").ConfigureAwait(false);
        }
        catch (BadHttpRequestException e)
        {
            await FailAsync(context, e.StatusCode, e.StatusCode == 413
                ? "The request is larger than the page takes."
                : "The request could not be read.").ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!context.RequestAborted.IsCancellationRequested)
        {
            await FailAsync(context, 503,
                InvariantText.Of(
                    $"It took longer than {PageLimits.Longest.TotalSeconds} s and was given up; use fewer or shorter "
                + $"logs.")).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            context.Abort();
        }
        catch (IOException) when (context.RequestAborted.IsCancellationRequested)
        {
            // The other side hung up, or sent too slowly.
            context.Abort();
        }
#pragma warning disable CA1031 // The last line of defence: a fault of ours is told as one sentence, and the page stays.
        catch (Exception e)
#pragma warning restore CA1031
        {
            await FailAsync(context, 500, $"A fault of the program itself ({e.GetType().Name}); please report it with the log, if you can.")
                .ConfigureAwait(false);
        }
    }

    private async Task AnswerAsync(HttpContext context, string name)
    {
        var request = context.Request;
        using var bounded = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted);
        bounded.CancelAfter(PageLimits.Longest);
        var stop = bounded.Token;
        switch (name)
        {
            case PagePaths.Start:
                string nonce = Convert.ToBase64String(RandomNumberGenerator.GetBytes(16));
                context.Response.Headers.ContentSecurityPolicy =
                    $"default-src 'none'; script-src 'nonce-{nonce}'; style-src 'nonce-{nonce}'; connect-src 'self'; frame-src 'self'; "
                        + "img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
                await SendAsync(context, "text/html; charset=utf-8", PageAssets.Page(nonce)).ConfigureAwait(false);
                break;
            case PagePaths.State:
                await SendAsync(context, await session.StateAsync(stop).ConfigureAwait(false), PageJson.Default.PageState)
                    .ConfigureAwait(false);
                break;
            case PagePaths.Log:
                await SendAsync(context, await session.TakeAsync(Header(request, "X-File-Name"), request.ContentLength, request.Body, stop)
                    .ConfigureAwait(false), PageJson.Default.PageState).ConfigureAwait(false);
                break;
            case PagePaths.Clear:
                await SendAsync(context, await session.ClearAsync(stop).ConfigureAwait(false), PageJson.Default.PageState)
                    .ConfigureAwait(false);
                break;
            case PagePaths.Remove:
                var gone = await SaidAsync(request, PageJson.Default.SaidLog, stop).ConfigureAwait(false);
                await SendAsync(context, await session.RemoveAsync(gone.Id, stop).ConfigureAwait(false), PageJson.Default.PageState)
                    .ConfigureAwait(false);
                break;
            case PagePaths.Read:
                var reading = await SaidAsync(request, PageJson.Default.SaidReading, stop).ConfigureAwait(false);
                await SendAsync(context, await session.ReadAsync(reading, stop).ConfigureAwait(false), PageJson.Default.PageState)
                    .ConfigureAwait(false);
                break;
            case PagePaths.Say:
                var said = await SaidAsync(request, PageJson.Default.SaidOnPage, stop).ConfigureAwait(false);
                await SendAsync(context, await session.SayAsync(said, stop).ConfigureAwait(false), PageJson.Default.PageState)
                    .ConfigureAwait(false);
                break;
            case PagePaths.Make:
                var asked = await SaidAsync(request, PageJson.Default.SaidOnPage, stop).ConfigureAwait(false);
                await SendAsync(context, await session.MakeAsync(asked, stop).ConfigureAwait(false), PageJson.Default.ReportMade)
                    .ConfigureAwait(false);
                break;
            default:
                byte[] report = session.Report ?? throw new PageException(404, "There is no report yet; make one first.");
                context.Response.Headers.ContentSecurityPolicy = ReportPolicy;
                if (name == PagePaths.Save)
                {
                    context.Response.Headers.ContentDisposition = "attachment; filename=\"report.html\"";
                }

                await SendAsync(context, "text/html; charset=utf-8", report).ConfigureAwait(false);
                break;
        }
    }

    private static async Task<T> SaidAsync<T>(HttpRequest request, JsonTypeInfo<T> type, CancellationToken stop)
    {
        using var body = new MemoryStream();
        byte[] buffer = new byte[8192];
        for (int read; (read = await request.Body.ReadAsync(buffer, stop).ConfigureAwait(false)) > 0;)
        {
            if (body.Length + read > PageLimits.BytesOfAnswers)
            {
                throw new PageException(413, "The answers of the page are larger than it takes.");
            }

            body.Write(buffer, 0, read);
        }

        return JsonSerializer.Deserialize(body.ToArray(), type) ?? throw new JsonException();
    }

    private static string? Header(HttpRequest request, string name) => request.Headers.TryGetValue(name, out var values)
        ? values.ToString()
        : null;

    private async Task FailAsync(HttpContext context, int status, string sentence, double? meantPrice = null)
    {
        if (context.Response.HasStarted)
        {
            context.Abort();
            return;
        }

        context.Response.StatusCode = status;
        await SendAsync(context, new PageError(sentence, meantPrice), PageJson.Default.PageError).ConfigureAwait(false);
    }

    private Task SendAsync<T>(HttpContext context, T answer, JsonTypeInfo<T> type)
    {
        using var written = session.Form?.Use();
        string json = WrittenMarks.ShownJson(JsonSerializer.Serialize(answer, type));
        return SendAsync(context, "application/json; charset=utf-8", Encoding.UTF8.GetBytes(json));
    }

    private static async Task SendAsync(HttpContext context, string type, byte[] bytes)
    {
        context.Response.ContentType = type;
        context.Response.ContentLength = bytes.Length;
        await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }
}

using System.Net;
using System.Net.Sockets;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace ChargeAudit.Cli.Page;

/// <summary>Serves the page to this machine alone until it is told to stop.</summary>
public static class PageServer
{
    /// <summary>Runs it.</summary>
    /// <param name="port">Port; zero: one that is free.</param>
    /// <param name="limits">How much it takes.</param>
    /// <param name="host">The world around it; its output gets the address.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <param name="told">What the user says about all logs; null for nothing.</param>
    /// <exception cref="InputException">The port is in use or may not be opened.</exception>
    /// <param name="opened">Called with the address when the page answers; null for nothing.</param>
    public static async Task RunAsync(
        int port, PageLimits limits, CliHost host, LogOptions? told, CancellationToken cancellation, Action<string>? opened = null)
    {
        ArgumentNullException.ThrowIfNull(limits);
        ArgumentNullException.ThrowIfNull(host);
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel => Configure(kestrel, port, limits));
        builder.Services.AddSingleton<IHostLifetime, NoLifetime>();
        builder.Services.Configure<HostOptions>(o => o.ShutdownTimeout = TimeSpan.FromSeconds(1));
        var app = builder.Build();
        await using (app.ConfigureAwait(false))
        {
            using var session = new PageSession(limits, host.Clock, told);
            var handlers = new TaskCompletionSource<PageHandlers>();
            app.Run(async context => await (await handlers.Task.ConfigureAwait(false)).AnswerAsync(context).ConfigureAwait(false));
            try
            {
                string token = PageGate.NewToken();
                await app.StartAsync(cancellation).ConfigureAwait(false);
                int bound =
                    new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First()).Port;

                // The gate knows its port only now; a request that came before waits for it.
                handlers.SetResult(new PageHandlers(new PageGate(token, bound), session));
                string address = InvariantText.Of($"http://127.0.0.1:{bound}/{token}/");
                await host.Output.WriteLineAsync(address).ConfigureAwait(false);
                await host.Output.FlushAsync(cancellation).ConfigureAwait(false);
                opened?.Invoke(address);
                await host.Error.WriteLineAsync(
                    "Open this address in a browser of this machine, if none has opened by itself. Nothing leaves the machine. Ctrl-C "
                    + "ends the page and deletes the logs that it was given.").ConfigureAwait(false);
                await Task.Delay(Timeout.Infinite, cancellation).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
            {
                await app.StopAsync(CancellationToken.None).ConfigureAwait(false);
            }
            catch (Exception e) when (e is IOException or SocketException)
            {
                throw new InputException(InputProblem.CannotWrite,
                    InvariantText.Of(
                        $"port {port} of 127.0.0.1 cannot be opened ({e.Message.TrimEnd('.')}); leave --port out, and a free one is taken"),
                        e);
            }
        }
    }

    private static void Configure(KestrelServerOptions kestrel, int port, PageLimits limits)
    {
        kestrel.AddServerHeader = false;
        kestrel.Listen(IPAddress.Loopback, port, listen => listen.Protocols = HttpProtocols.Http1);
        kestrel.Limits.MaxRequestBodySize = limits.BytesAFile + PageLimits.BytesOfAnswers;
        kestrel.Limits.MaxRequestLineSize = 2048;
        kestrel.Limits.MaxRequestHeadersTotalSize = 16 * 1024;
        kestrel.Limits.MaxConcurrentConnections = PageLimits.Connections;
        kestrel.Limits.RequestHeadersTimeout = PageLimits.Silence;
        kestrel.Limits.KeepAliveTimeout = PageLimits.Silence;

        // Nothing but this machine is at the other end.
        kestrel.Limits.MinRequestBodyDataRate = new MinDataRate(bytesPerSecond: 64 * 1024, gracePeriod: PageLimits.Silence);
        kestrel.Limits.MinResponseDataRate = new MinDataRate(bytesPerSecond: 64 * 1024, gracePeriod: PageLimits.Silence);
    }

    // The program's own command line takes the interrupt.
    private sealed class NoLifetime : IHostLifetime
    {
        public Task WaitForStartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
    }
}

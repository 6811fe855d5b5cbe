using System.ComponentModel;
using System.Diagnostics;

namespace ChargeAudit.Cli.Page;

/// <summary>Opens an address in the browser that the user has chosen.</summary>
internal static class Browser
{
    /// <summary>Asks the system to open it; where none can, nothing happens, and the address is in the terminal.</summary>
    /// <param name="address">The address.</param>
    public static void Open(string address)
    {
        try
        {
            var start = OperatingSystem.IsWindows() ? new ProcessStartInfo(address) { UseShellExecute = true }
                : new ProcessStartInfo(OperatingSystem.IsMacOS() ? "open" : "xdg-open", [address])
                {
                    RedirectStandardOutput = true,
                    RedirectStandardError = true,
                };
            using var process = Process.Start(start);
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException or PlatformNotSupportedException)
        {
            // No browser, or no desktop.
        }
    }
}

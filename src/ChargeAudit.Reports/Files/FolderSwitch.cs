using System.Runtime.InteropServices;
using System.Text;

namespace ChargeAudit.Reports.Files;

/// <summary>What the system can do with folders at one stroke.</summary>
/// <remarks>*Source:* Linux man-pages, rename(2): renameat2 with RENAME_EXCHANGE; link(2). Of macOS's renamex_np with RENAME_SWAP the
/// numbers are from memory.</remarks>
internal static class FolderSwitch
{
    private const int CurrentFolder = -100;
    private const uint Exchange = 2;

    /// <summary>Lets two folders change places, so that nobody ever finds neither or a mix.</summary>
    /// <returns>Whether it was done: not every system, and not every kind of disk, can.</returns>
    public static bool TryExchange(string one, string other)
    {
        try
        {
            return OperatingSystem.IsLinux() ? RenameAt2(CurrentFolder, Bytes(one), CurrentFolder, Bytes(other), Exchange) == 0
                : OperatingSystem.IsMacOS() && RenameSwapped(Bytes(one), Bytes(other), Exchange) == 0;
        }
        catch (Exception e) when (e is EntryPointNotFoundException or DllNotFoundException)
        {
            return false;
        }
    }

    /// <summary>Gives a file a second name.</summary>
    /// <returns>Whether it was done.</returns>
    public static bool TryLink(string file, string name)
    {
        try
        {
            return !OperatingSystem.IsWindows() && Link(Bytes(file), Bytes(name)) == 0;
        }
        catch (Exception e) when (e is EntryPointNotFoundException or DllNotFoundException)
        {
            return false;
        }
    }

    // A path as these systems take it: UTF-8 with a zero at its end.
    private static byte[] Bytes(string path) => Encoding.UTF8.GetBytes(path + '\0');

#pragma warning disable SYSLIB1054 // Generated marshalling needs unsafe code in the project, for three calls.
    [DllImport("libc", EntryPoint = "renameat2", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int RenameAt2(
        int oneFolder, byte[] one, int otherFolder, byte[] other, uint flags);

    [DllImport("libc", EntryPoint = "renamex_np", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int RenameSwapped(byte[] one, byte[] other, uint flags);

    [DllImport("libc", EntryPoint = "link", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Link(byte[] file, byte[] name);
#pragma warning restore SYSLIB1054
}

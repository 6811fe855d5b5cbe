using System.Runtime.InteropServices;

namespace ChargeAudit.Reports.Files;

/// <summary>What the system can do with folders at one stroke.</summary>
/// <remarks>*Source:* Linux man-pages, rename(2): renameat2 with RENAME_EXCHANGE; link(2). Of macOS's renamex_np with RENAME_SWAP the numbers are from memory.</remarks>
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
            return OperatingSystem.IsLinux() ? RenameAt2(CurrentFolder, one, CurrentFolder, other, Exchange) == 0
                : OperatingSystem.IsMacOS() && RenameSwapped(one, other, Exchange) == 0;
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
            return !OperatingSystem.IsWindows() && Link(file, name) == 0;
        }
        catch (Exception e) when (e is EntryPointNotFoundException or DllNotFoundException)
        {
            return false;
        }
    }

#pragma warning disable SYSLIB1054 // Generated marshalling needs unsafe code in the project, for three calls.
    [DllImport("libc", EntryPoint = "renameat2", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int RenameAt2(
        int oneFolder, [MarshalAs(UnmanagedType.LPUTF8Str)] string one, int otherFolder, [MarshalAs(UnmanagedType.LPUTF8Str)] string other, uint flags);

    [DllImport("libc", EntryPoint = "renamex_np", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int RenameSwapped([MarshalAs(UnmanagedType.LPUTF8Str)] string one, [MarshalAs(UnmanagedType.LPUTF8Str)] string other, uint flags);

    [DllImport("libc", EntryPoint = "link", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Link([MarshalAs(UnmanagedType.LPUTF8Str)] string file, [MarshalAs(UnmanagedType.LPUTF8Str)] string name);
#pragma warning restore SYSLIB1054
}

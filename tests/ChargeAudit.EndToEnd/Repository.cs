namespace ChargeAudit.EndToEnd;

/// <summary>Where things are in the checkout that these tests were built from.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    public static string SampleLogs => Path.Combine(Root, "sample-logs");

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "ChargeAudit.sln")))
            {
                return folder.FullName;
            }
        }

        throw new DirectoryNotFoundException("ChargeAudit.sln stands in no folder above the tests");
    }
}

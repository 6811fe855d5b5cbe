namespace ChargeAudit.Logs.Streams;

/// <summary>
/// A copy of a stream that cannot be read twice, in a temporary file that goes away with this object: the first look and the reading,
/// and later a second reading of a few rows, see the same bytes, and memory stays flat.
/// </summary>
internal sealed class Spool : IDisposable
{
    private readonly FileStream file;

    public Spool(Stream input)
    {
        string name = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        file = new FileStream(name, new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.ReadWrite,
            Share = FileShare.ReadWrite | FileShare.Delete,
            Options = FileOptions.DeleteOnClose,
        });
        try
        {
            input.CopyTo(file);
            file.Flush();
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>Opens the copy from its beginning.</summary>
    public Stream Open() => new FileStream(file.Name, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);

    public void Dispose() => file.Dispose();
}

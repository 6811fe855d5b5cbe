namespace ChargeAudit.Logs.Streams;

/// <summary>
/// A copy of a stream that cannot be read twice, in a temporary file that goes away with this object: the first look and the reading,
/// and later a second reading of a few rows, see the same bytes, and memory stays flat.
/// </summary>
internal sealed class Spool : IDisposable
{
    /// <summary>After so much has come, it is looked at. [byte]</summary>
    public const long LookAtBytes = 1 << 20;

    private const string Prefix = "chargeaudit-log-";

    private readonly FileStream _file;

    /// <summary>Copies a stream.</summary>
    /// <param name="input">The stream.</param>
    /// <param name="look">Looks at the beginning, once there is enough of it; throws where the rest is not wanted.</param>
    public Spool(Stream input, Action<Spool, long> look)
    {
        Sweep();
        string name = Path.Combine(Path.GetTempPath(), Prefix + Path.GetRandomFileName());
        _file = new FileStream(name, new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.ReadWrite,
            Share = FileShare.ReadWrite | FileShare.Delete,
            Options = FileOptions.DeleteOnClose,
        });
        try
        {
            byte[] block = new byte[1 << 16];
            long lookAt = LookAtBytes;
            for (int read; (read = input.Read(block)) > 0;)
            {
                _file.Write(block, 0, read);
                if (_file.Position >= lookAt)
                {
                    _file.Flush();
                    look(this, _file.Position);
                    lookAt = _file.Position * 2;
                }
            }

            _file.Flush();
        }
        catch
        {
            _file.Dispose();
            throw;
        }
    }

    /// <summary>Opens the copy from its beginning.</summary>
    public Stream Open() => new FileStream(_file.Name, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);

    public void Dispose() => _file.Dispose();

    // A program that was killed leaves its copy; one that is in use cannot be opened alone.
    private static void Sweep()
    {
        foreach (string left in Directory.EnumerateFiles(Path.GetTempPath(), Prefix + "*"))
        {
            try
            {
                using (new FileStream(left, FileMode.Open, FileAccess.ReadWrite, FileShare.None))
                {
                }

                File.Delete(left);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // In use, or somebody else's.
            }
        }
    }
}

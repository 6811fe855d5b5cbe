namespace ChargeAudit.Logs.Formats;

/// <summary>The stored bytes of a log, which can be opened as often as needed.</summary>
internal interface IStoredLog
{
    /// <summary>Name for messages.</summary>
    string Path { get; }

    /// <summary>Opens the bytes as they are stored.</summary>
    Stream OpenRaw();
}

using System.Reflection;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>What an audit needs besides the study.</summary>
public sealed record AuditOptions
{
    private static readonly string LibraryVersion =
        typeof(AuditOptions).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];

    /// <summary>Whether the first fault of a log refuses it.</summary>
    public bool Strict { get; init; }

    /// <summary>How modes are found.</summary>
    public ModeOptions Modes { get; init; } = new();

    /// <summary>A published procedure to work out as well.</summary>
    public PublishedProcedure Procedure { get; init; }

    /// <summary>Version of the program, for the provenance; that of this library where no other is given.</summary>
    public string ProgramVersion { get; init; } = LibraryVersion;

    /// <summary>The command that was given, for the provenance; null where the library was called by another program.</summary>
    public string? CommandLine { get; init; }

    /// <summary>The study file as named; null where there was none.</summary>
    public string? StudyFile { get; init; }

    /// <summary>Hash of the study's bytes where they did not come from a file of that name; null: the file's own.</summary>
    public string? StudySha256 { get; init; }

    /// <summary>What was assumed where no study states it.</summary>
    public IReadOnlyList<string> Assumptions { get; init; } = [];

    /// <summary>Whether this audit drafted its study from a folder of logs.</summary>
    public bool Drafted { get; init; }

    /// <summary>Files of that folder that are in no part of the study, each with the reason.</summary>
    public IReadOnlyList<PassedOver> PassedOver { get; init; } = [];

    /// <summary>Summaries that stand for logs, to be used in place of reading and added to; null: every log is read.</summary>
    public SummaryFolder? Summaries { get; init; }

    /// <summary>The clock.</summary>
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>Told which log is being read, and how many bytes of it have been.</summary>
    public IProgress<ReadingProgress>? Progress { get; init; }
}

/// <summary>How far the reading of the logs has got.</summary>
/// <param name="File">The log.</param>
/// <param name="Log">Its number, counted from 1.</param>
/// <param name="Logs">How many there are.</param>
/// <param name="BytesRead">Bytes of it read so far.</param>
public readonly record struct ReadingProgress(string File, int Log, int Logs, long BytesRead)
{
    /// <summary>Bytes read so far of all logs.</summary>
    public long BytesReadInAll { get; init; }

    /// <summary>Bytes of all logs, those of a log that is read twice counted twice. Zero where no file is there.</summary>
    public long BytesInAll { get; init; }
}

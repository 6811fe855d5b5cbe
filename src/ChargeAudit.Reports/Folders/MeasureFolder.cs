using ChargeAudit.Comparing.Tables;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;

namespace ChargeAudit.Reports.Folders;

/// <summary>What was measured of logs, as tables in one folder.</summary>
public static class MeasureFolder
{
    /// <summary>Writes <c>results</c>, <c>sessions</c>, <c>modes</c> and <c>envelope</c> (see <see cref="LogTables"/>) in each of the
    /// formats, as a whole new folder (see <see cref="ResultFolder"/>).</summary>
    /// <param name="logs">The logs.</param>
    /// <param name="folder">The folder; made where it is not there.</param>
    /// <param name="formats">The formats; at least one.</param>
    /// <param name="overwrite">Whether files of those names that are not ours may be replaced.</param>
    /// <param name="cancellation">Stops as long as the old files stand.</param>
    /// <returns>Paths of the files.</returns>
    /// <exception cref="InputException">A file cannot be written (<see cref="InputProblem.CannotWrite"/>).</exception>
    public static IReadOnlyList<string> Write(
        IReadOnlyList<LogMeasurement> logs, string folder, IReadOnlyList<TableFormat> formats, bool overwrite = false,
            CancellationToken cancellation = default) => ResultFolder.Write(
        [
            .. TableFile.Of("results", LogTables.Results(logs), formats),
            .. TableFile.Of("sessions", LogTables.Sessions(logs), formats),
            .. TableFile.Of("modes", LogTables.Modes(logs), formats),
            .. TableFile.Of("envelope", LogTables.Envelope(logs), formats),
        ],
        folder, overwrite, cancellation: cancellation);
}

#pragma warning disable
namespace ChargeAudit.Logs.Reading;
public static class LogReader {
  public static LogLayout Inspect(string path, LogOptions options) => throw new Exception();
  public static ReadOutcome ReadInto<TSink>(string path, LogLayout layout, LogOptions options, ref TSink sink, IProgress<long>? bytesRead, CancellationToken cancellation) where TSink : struct, ISampleSink => throw new Exception();
  public static LogLayout Inspect(IReadOnlyList<string> paths, LogOptions options)=> throw new Exception();
  public static IReadOnlyList<ReadOutcome> ReadInto<TSink>(IReadOnlyList<string> paths, LogLayout layout, LogOptions options, ref TSink sink, IProgress<long>? bytesRead, CancellationToken cancellation) where TSink : struct, ISampleSink=> throw new Exception();
}

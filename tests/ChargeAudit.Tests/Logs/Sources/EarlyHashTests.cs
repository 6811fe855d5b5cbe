using System.Security.Cryptography;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Logs.Sources;

namespace ChargeAudit.Tests.Logs.Sources;

/// <summary>A large file's hash, computed alongside the first look at the file.</summary>
public sealed class EarlyHashTests : IDisposable
{
    private const int Rows = 800_000;
    private readonly string _path = Path.Combine(Path.GetTempPath(), $"chargeaudit-hash-{Guid.NewGuid():N}.csv");

    public EarlyHashTests()
    {
        var text = new StringBuilder("time_s,power_W\n");
        for (int i = 0; i < Rows; i++)
        {
            text.Append(i).Append(",5.125\n");
        }

        File.WriteAllText(_path, text.ToString());
    }

    public void Dispose() => File.Delete(_path);

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_hash_is_that_of_the_file_either_way(bool readFollows)
    {
        var options = new LogOptions { ReadFollows = readFollows };
        var layout = LogReader.Inspect(_path, options);
        Assert.Equal(readFollows && Environment.ProcessorCount > 1, layout.Hash is not null);
        var sink = default(CountingSink);
        var outcome = LogReader.ReadInto(_path, layout, options, ref sink, null, TestContext.Current.CancellationToken);
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(_path))), outcome.Sha256);
        Assert.Equal((Rows, Rows), (outcome.Rows, sink.Count));
    }

    [Fact]
    public void A_file_that_was_written_to_after_the_look_gets_the_hash_of_what_was_read()
    {
        var options = new LogOptions { ReadFollows = true };
        var layout = LogReader.Inspect(_path, options);
        File.AppendAllText(_path, $"{Rows},5.25\n");
        var sink = default(CountingSink);
        var outcome = LogReader.ReadInto(_path, layout, options, ref sink, null, TestContext.Current.CancellationToken);
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(_path))), outcome.Sha256);
        Assert.Equal(Rows + 1, outcome.Rows);
    }

    [Fact]
    public void A_hash_that_was_given_up_is_not_taken_for_the_files()
    {
        var source = LogSource.Find(_path, new LogOptions(), null, PipedLog.Look);
        if (EarlyHash.Begin(source) is not { } hash)
        {
            Assert.Equal(1, Environment.ProcessorCount);
            return;
        }

        Assert.True(hash.IsOf(FileState.Of(source)));
        hash.Stop();
        Assert.False(hash.IsOf(FileState.Of(source)));
    }

    [Fact]
    public void Whoever_takes_the_hash_over_goes_on_where_it_was()
    {
        var source = LogSource.Find(_path, new LogOptions(), null, PipedLog.Look);
        if (EarlyHash.Begin(source) is not { } early)
        {
            Assert.Equal(1, Environment.ProcessorCount);
            return;
        }

        byte[] whole = File.ReadAllBytes(_path);
        var (hash, bytes) = early.HandOver();
        Assert.InRange(bytes, 0, whole.Length);
        hash.AppendData(whole.AsSpan((int)bytes));
        Assert.Equal(SHA256.HashData(whole), hash.GetHashAndReset());
        Assert.False(early.IsOf(FileState.Of(source)));
    }

    private struct CountingSink : ISampleSink
    {
        public int Count;

        public void Add(in Sample sample) => Count++;
    }
}

using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;

namespace ChargeAudit.Tests.Reports.Files;

public sealed class ResultFolderTests : IDisposable
{
    private const string Manifest = "chargeaudit-files.json";

    private readonly string _root = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
    private readonly string _folder;

    public ResultFolderTests() => _folder = Path.Combine(_root, "report");

    public void Dispose() => Directory.Delete(_root, recursive: true);

    [Fact]
    public void The_manifest_names_every_file_with_its_hash()
    {
        Write(("a.txt", "one"), ("charts/b.svg", "two"));
        using var manifest = JsonDocument.Parse(File.ReadAllText(In(Manifest)));
        Assert.True(manifest.RootElement.GetProperty("complete").GetBoolean());
        foreach (var file in manifest.RootElement.GetProperty("files").EnumerateArray())
        {
            string name = file.GetProperty("name").GetString()!;
            Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(In(name)))), file.GetProperty("sha256").GetString());
        }

        Assert.Equal(["a.txt", Manifest, "charts/b.svg"], Files());
    }

    /// <summary>A kill while an old folder is removed left files without the manifest that says whose they are, and the next run put them
    /// into the new one as the user's.</summary>
    [Fact]
    public void An_old_folder_loses_its_manifest_last()
    {
        Write([.. Enumerable.Range(0, 40).Select(i => ($"file-{i}.txt", "old")), ("charts/a.svg", "old")]);
        var gone = new System.Collections.Concurrent.ConcurrentQueue<string>();
        using var manifestGone = new ManualResetEventSlim();
        using var watcher = new FileSystemWatcher(_folder);
        watcher.Deleted += (_, e) =>
        {
            gone.Enqueue(e.Name!);
            if (e.Name == Manifest)
            {
                manifestGone.Set();
            }
        };
        watcher.EnableRaisingEvents = true;

        StrayFolders.Delete(_folder);

        Assert.True(manifestGone.Wait(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken));
        Assert.Equal(40, gone.TakeWhile(n => n != Manifest).Count(n => n.EndsWith(".txt", StringComparison.Ordinal)));
        Assert.False(Directory.Exists(_folder));
    }

    [Fact]
    public void Charts_of_an_earlier_study_go_and_files_of_the_user_stay()
    {
        Write(("a.txt", "one"), ("charts/old.svg", "old"));
        File.WriteAllText(In("notes.txt"), "mine");
        File.WriteAllText(In("charts/mine.svg"), "mine too");
        Directory.CreateDirectory(In("photos/pad"));
        File.WriteAllText(In("photos/pad/1.jpg"), "mine as well");
        Write(("a.txt", "two"), ("charts/new.svg", "new"));
        Assert.Equal(["a.txt", Manifest, "charts/mine.svg", "charts/new.svg", "notes.txt", "photos/pad/1.jpg"], Files());
        Assert.Equal(("two", "mine", "mine too"),
            (File.ReadAllText(In("a.txt")), File.ReadAllText(In("notes.txt")), File.ReadAllText(In("charts/mine.svg"))));
        Assert.Equal(["report"], Directory.GetFileSystemEntries(_root).Select(Path.GetFileName));
    }

    [Fact]
    public void A_file_that_is_not_ours_is_replaced_only_when_asked()
    {
        Directory.CreateDirectory(_folder);
        File.WriteAllText(In("a.txt"), "mine");
        var problem = Assert.Throws<InputException>(() => Write(("a.txt", "ours"), ("b.txt", "ours")));
        Assert.Equal(InputProblem.CannotWrite, problem.Problem);
        Assert.Contains("holds a.txt already", problem.Message, StringComparison.Ordinal);
        Assert.Equal(Remedy.Overwrite, problem.Remedy);
        Assert.Equal(["a.txt"], Files());
        Assert.Equal("mine", File.ReadAllText(In("a.txt")));
        ResultFolder.Write([("a.txt", "ours"u8.ToArray())], _folder, overwrite: true, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal("ours", File.ReadAllText(In("a.txt")));
    }

    [Fact]
    public void What_a_killed_program_left_is_swept_and_what_a_running_one_makes_is_not()
    {
        string left = _folder + ".chargeaudit-" + new string('a', 32);
        string used = _folder + ".chargeaudit-" + new string('b', 32);
        string other = _folder + ".chargeaudit-of-mine";
        foreach (string folder in (string[])[left, used, other])
        {
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, "half.txt"), "half");
        }

        File.WriteAllText(Path.Combine(left, Manifest), "");
        using (new FileStream(Path.Combine(used, Manifest), FileMode.CreateNew, FileAccess.Write, FileShare.None))
        {
            Write(("a.txt", "one"));
            Assert.Equal((false, true, true), (Directory.Exists(left), Directory.Exists(used), Directory.Exists(other)));
        }

        Assert.Equal(["a.txt", Manifest], Files());
    }

    [Fact]
    public void A_kill_right_after_the_switch_loses_no_file_of_the_user()
    {
        Write(("a.txt", "new"));
        string old = _folder + ".chargeaudit-" + new string('c', 32);
        ResultFolder.Write([("a.txt", "old"u8.ToArray()), ("old.svg", "old"u8.ToArray())], old,
            cancellation: TestContext.Current.CancellationToken);
        File.WriteAllText(Path.Combine(old, "late.txt"), "mine");
        Write(("a.txt", "newest"));
        Assert.Equal(["a.txt", Manifest, "late.txt"], Files());
        Assert.Equal("mine", File.ReadAllText(In("late.txt")));
        Assert.False(Directory.Exists(old));
    }

    [Fact]
    public void A_planted_link_is_not_followed()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "links need leave there");
        string victim = Path.Combine(_root, "victim.txt");
        File.WriteAllText(victim, "untouched");
        Write(("a.txt", "one"));
        File.Delete(In("a.txt"));
        File.CreateSymbolicLink(In("a.txt"), victim);
        File.CreateSymbolicLink(In("a.txt.part"), victim);
        Write(("a.txt", "two"));
        Assert.Equal("untouched", File.ReadAllText(victim));
        Assert.Equal("two", File.ReadAllText(In("a.txt")));
        Assert.Null(new FileInfo(In("a.txt")).LinkTarget);
        string single = Path.Combine(_root, "single.txt");
        File.CreateSymbolicLink(single, victim);
        File.CreateSymbolicLink(single + ".part", victim);
        AtomicFile.Write(single, "one"u8);
        Assert.Equal(("untouched", "one"), (File.ReadAllText(victim), File.ReadAllText(single)));
    }

    [Fact]
    public async Task Two_that_write_at_once_leave_the_whole_of_one()
    {
        for (int round = 0; round < 300; round++)
        {
            string at = round.ToString(System.Globalization.CultureInfo.InvariantCulture);
            await Task.WhenAll(
                Task.Run(() => Write(("a.txt", "A" + at), ("charts/b.svg", "A" + at), ("only-a.txt", "A")),
                    TestContext.Current.CancellationToken),
                Task.Run(() => Write(("a.txt", "B" + at), ("charts/b.svg", "B" + at)), TestContext.Current.CancellationToken));
            string[] files = Files();
            Assert.Equal(File.ReadAllText(In("a.txt")), File.ReadAllText(In("charts/b.svg")));
            Assert.Equal(File.ReadAllText(In("a.txt")).StartsWith('A')
                ? ["a.txt", Manifest, "charts/b.svg", "only-a.txt"]
                : (string[])["a.txt", Manifest, "charts/b.svg"], files);
        }

        Write(("a.txt", "last"));
        Assert.Equal(["report"], Directory.GetFileSystemEntries(_root).Select(Path.GetFileName));
    }

    private void Write(params (string Name, string Text)[] files) =>
        ResultFolder.Write([.. files.Select(f => (f.Name, Encoding.UTF8.GetBytes(f.Text)))], _folder,
            cancellation: TestContext.Current.CancellationToken);

    private string In(string name) => Path.Combine(_folder, name);

    private string[] Files() =>
        [.. Directory.GetFiles(_folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(_folder, f).Replace('\\', '/'))
        .Order(StringComparer.Ordinal)];
}

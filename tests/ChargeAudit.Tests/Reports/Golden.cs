using System.Globalization;
using System.Text.RegularExpressions;

namespace ChargeAudit.Tests.Reports;

/// <summary>
/// Compares text with a file kept beside the tests. Where they differ, what came is written as <c>NAME.received.EXT</c> beside it and the
/// test fails; a person looks at the difference and renames the file. No test ever accepts its own output.
/// </summary>
internal static partial class Golden
{
    public static TheoryData<string> Cultures => ["", "de-DE", "tr-TR"];

    /// <summary>What a function gives while a culture is in force.</summary>
    public static T Under<T>(string culture, Func<T> make)
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo(culture);
            return make();
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    public static void Check(string name, string actual)
    {
        string path = Path.Combine(Folder(), name);
        string expected = File.Exists(path) ? File.ReadAllText(path).ReplaceLineEndings("\n") : "";
        (expected, actual) = (LastDigits().Replace(expected, Shorter), LastDigits().Replace(actual, Shorter));
        if (expected == actual)
        {
            return;
        }

        string received = Path.Combine(Folder(), $"{Path.GetFileNameWithoutExtension(name)}.received{Path.GetExtension(name)}");
        File.WriteAllText(received, actual);
        Assert.Fail($"{name} differs at {FirstDifference(expected, actual)}; what came is in {received}");
    }

    public static string RepositoryFile(params string[] parts)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "ChargeAudit.sln")))
            {
                return Path.Combine([folder.FullName, .. parts]);
            }
        }

        throw new InvalidOperationException("the tests do not run inside the repository");
    }

    // These files hold the writers to their form. Exponentials differ between mathematical libraries and coverage factors are worked out
    // numerically: six digits are compared.
    private static string Shorter(Match number) =>
        double.Parse(number.Value, CultureInfo.InvariantCulture).ToString("G6", CultureInfo.InvariantCulture);

    [GeneratedRegex(@"(?<![\w.])-?\d+\.\d{5,}(E-?\d+)?")]
    private static partial Regex LastDigits();

    private static string Folder() => RepositoryFile("tests", "ChargeAudit.Tests", "Reports", "Golden");

    private static string FirstDifference(string expected, string actual)
    {
        string[] a = expected.Split('\n');
        string[] b = actual.Split('\n');
        int line = Enumerable.Range(0, Math.Max(a.Length, b.Length)).First(i => i >= a.Length || i >= b.Length || a[i] != b[i]);
        return $"line {line + 1}: expected '{a.ElementAtOrDefault(line)}', got '{b.ElementAtOrDefault(line)}'";
    }
}

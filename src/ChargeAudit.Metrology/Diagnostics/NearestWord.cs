namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>The known word that a mistyped one is nearest to.</summary>
public static class NearestWord
{
    /// <summary>The nearest known word; null where none is near: more than two letters and a third of the word apart.</summary>
    /// <param name="word">The word as typed.</param>
    /// <param name="known">The words that are known.</param>
    public static string? Of(string word, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(word);
        var best = known.Select(k => (Word: k, Distance: Distance(k, word))).OrderBy(c => c.Distance).FirstOrDefault();
        return best.Word is not null && best.Distance <= Math.Max(2, word.Length / 3) ? best.Word : null;
    }

    /// <summary>How many letters to change, add, leave out or swap with their neighbour until one word is the other.</summary>
    private static int Distance(string a, string b)
    {
        int[,] steps = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
        {
            for (int j = 0; j <= b.Length; j++)
            {
                steps[i, j] = i == 0 || j == 0 ? i + j : Math.Min(
                    steps[i - 1, j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1), 1 + Math.Min(steps[i - 1, j], steps[i, j - 1]));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    steps[i, j] = Math.Min(steps[i, j], steps[i - 2, j - 2] + 1);
                }
            }
        }

        return steps[a.Length, b.Length];
    }
}

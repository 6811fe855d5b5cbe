using ChargeAudit.Reports.Text;
using CsCheck;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>Looking sentences up groups them as comparing each with the first of every group does.</summary>
public sealed class SentenceGroupsTests
{
    [Fact]
    public void Sentences_fall_into_the_groups_that_comparing_all_gives()
    {
        var names = new KnownNames();
        foreach (string name in new[] { "a", "b", "c" })
        {
            names.Add(name);
        }

        // Up to eleven names: more than are looked up, too.
        var sentences = Gen.Char['a', 'c'].Select(c => c.ToString()).Array[1, 11].Select(s => string.Join(" and ", s)).Array[1, 60];
        sentences.Sample(all =>
        {
            var groups = new SentenceGroups();
            var compared = new List<List<Said>>();
            for (int i = 0; i < all.Length; i++)
            {
                var said = new Said(new Alike.Named(null, all[i]), names);
                groups.Add(said, i);
                if (compared.Find(g => g[0].Frame == said.Frame && g[0].SaysTheSame(said)) is { } known)
                {
                    known.Add(said);
                }
                else
                {
                    compared.Add([said]);
                }
            }

            Assert.Equal(compared.Select(g => g.Select(s => s.Text)), groups.All.Select(g => g.Select(s => s.Said.Text)));
            Assert.Equal(Enumerable.Range(0, all.Length), groups.All.SelectMany(g => g.Select(s => s.At)).Order());
        }, iter: 2000, seed: "0000000000001");
    }
}

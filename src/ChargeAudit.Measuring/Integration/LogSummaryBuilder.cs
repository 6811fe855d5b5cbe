using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Measuring.Integration;

// The builder of a summary: nothing else can change one.
public sealed partial class LogSummary
{
    /// <summary>
    /// Takes the samples of a log, or of a piece of one, and makes its summary once all are in. Pieces join to the whole bit for bit. Not
    /// safe for concurrent writers.
    /// </summary>
    public sealed class Builder
    {
        private readonly LogSummary _sums;

        /// <summary>A builder that has seen no sample.</summary>
        /// <param name="rules">Rules for the whole log.</param>
        public Builder(SummaryRules rules)
            : this(new LogSummary(rules))
        {
        }

        private Builder(LogSummary sums) => _sums = sums;

        /// <summary>A builder that keeps the rows as well, as long as they are few.</summary>
        internal static Builder Keeping(SummaryRules rules) => new(rules) { Rows = new KeptRows(rules) };

        /// <summary>The rows that came so far; null where none are kept.</summary>
        internal KeptRows? Rows { get; private init; }

        /// <summary>What has come so far; changes with every sample.</summary>
        internal LogSummary SoFar => _sums;

        /// <summary>A builder that goes on from what was written down.</summary>
        internal static Builder Of(SummaryState state) => new(LogSummary.Of(state));

        /// <summary>Joins two neighbouring pieces of one log, neither of them finished. Both are left as they are.</summary>
        /// <param name="a">The first.</param>
        /// <param name="b">The one that follows.</param>
        public static Builder Combine(Builder a, Builder b) => new(LogSummary.Combine(a._sums, b._sums));

        /// <summary>Adds a sample; times must not decrease.</summary>
        /// <param name="sample">The sample.</param>
        /// <exception cref="InvalidOperationException">The summary is finished.</exception>
        public void Add(in Sample sample)
        {
            _sums.Add(in sample);
            Rows?.Add(in sample);
        }

        /// <summary>Adds many rows at once.</summary>
        /// <param name="rows">The rows.</param>
        /// <exception cref="InvalidOperationException">The summary is finished.</exception>
        public void Add(in RowBlock rows)
        {
            _sums.Add(in rows);
            Rows?.Add(in rows);
        }

        /// <summary>A builder for a later piece of this log; join it with <see cref="Join"/>.</summary>
        /// <param name="spent">A piece that was joined and is no longer needed: its memory is used again; null where there is none.</param>
        public Builder ForLaterPiece(Builder? spent = null) => new(_sums.ForLaterPiece(spent?._sums))
        {
            Rows = Rows is { AreTooMany: false } ? new KeptRows(_sums.Rules) : null,
        };

        /// <summary>Adds the piece that follows, neither of them finished. The piece keeps its figures, and takes no more
        /// samples.</summary>
        /// <param name="piece">The piece.</param>
        /// <exception cref="InvalidOperationException">The summary is finished.</exception>
        public void Join(Builder piece)
        {
            _sums.Join(piece._sums);
            if (piece.Rows is { } rows)
            {
                Rows?.Join(rows);
            }
        }

        /// <summary>The summary, with the intervals at the edges that averages stand for. The builder takes nothing afterwards.</summary>
        public LogSummary Finish()
        {
            _sums.Finish();
            return _sums;
        }
    }
}

using System.Runtime.CompilerServices;

// The parts of the mode finder are tested one by one; none of them is of use to others.
[assembly: InternalsVisibleTo("ChargeAudit.Tests")]

namespace ChargeAudit.Documents.Notices;

/// <summary>A package whose files travel with the program.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Version">Its version.</param>
/// <param name="Licence">What its own metadata says: an SPDX expression, or else the address of a licence.</param>
/// <param name="Copyright">Its line of copyright, or else its authors.</param>
/// <param name="Address">Its home.</param>
/// <param name="Natives">Platforms that it brings native code for.</param>
/// <param name="Texts">Licence and notices that it carries: names and texts.</param>
public sealed record ShippedPackage(
    string Id, string Version, string Licence, string Copyright, string Address, IReadOnlyList<string> Natives,
        IReadOnlyList<(string Name, string Text)> Texts)
{
    /// <summary>The licence of a package that carries its text instead of naming it.</summary>
    public const string OwnText = "its own text, below";
}

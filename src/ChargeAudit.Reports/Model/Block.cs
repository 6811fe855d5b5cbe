namespace ChargeAudit.Reports.Model;

/// <summary>A piece of a report, told apart from how it is written. All text is plain; writers encode it.</summary>
internal abstract record Block;

/// <summary>Running text.</summary>
internal sealed record Paragraph(string Text) : Block;

/// <summary>A list of sentences.</summary>
internal sealed record Bullets(IReadOnlyList<string> Items) : Block;

/// <summary>Text to be typed or copied as it stands.</summary>
internal sealed record Verbatim(string Text) : Block;

/// <summary>A chart, by its key.</summary>
internal sealed record Picture(string ChartKey) : Block;

/// <summary>A smaller heading.</summary>
internal sealed record Subheading(string Text) : Block;

/// <summary>The measuring points of one method in a row, with what each stage loses.</summary>
internal sealed record Chain(string Method, string Kind, int Color, IReadOnlyList<ChainPlace> Places) : Block;

/// <summary>A measuring point of a chain.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Energy">Energy per charge there; null where it was not measured.</param>
/// <param name="Stage">What comes after it; null at the end.</param>
/// <param name="Loss">What that loses; null where not known.</param>
internal sealed record ChainPlace(string Name, string? Energy, string? Stage, string? Loss);

/// <summary>What a column holds.</summary>
internal enum ColumnKind
{
    /// <summary>Words.</summary>
    Text,

    /// <summary>Figures.</summary>
    Number,
}

/// <summary>A column of a table.</summary>
internal sealed record Column(string Header, ColumnKind Kind = ColumnKind.Text);

/// <summary>A table; the first cell of each row names it.</summary>
/// <param name="Caption">What it shows.</param>
/// <param name="Columns">Its columns.</param>
/// <param name="Rows">Its rows, each as long as there are columns.</param>
internal sealed record DataTable(string Caption, IReadOnlyList<Column> Columns, IReadOnlyList<IReadOnlyList<string>> Rows) : Block
{
    /// <summary>Whether it is so long that a page folds it away.</summary>
    public bool Folded { get; init; }
}

/// <summary>A figure that is shown large.</summary>
/// <param name="Label">What it is.</param>
/// <param name="Value">The figure with its unit.</param>
/// <param name="Note">Its interval, or why there is none.</param>
internal sealed record KeyFigure(string Label, string Value, string Note);

/// <summary>A part of the report.</summary>
/// <param name="Id">Short name, fit for an element id.</param>
/// <param name="Title">Its title.</param>
/// <param name="Blocks">What it holds.</param>
internal sealed record Section(string Id, string Title, IReadOnlyList<Block> Blocks);

/// <summary>A whole report.</summary>
/// <param name="Title">Title of the study.</param>
/// <param name="Answer">The answer in one sentence.</param>
/// <param name="Details">What belongs right below it.</param>
/// <param name="Figures">Figures shown large.</param>
/// <param name="Sections">Everything else.</param>
internal sealed record ReportDocument(
    string Title, string Answer, IReadOnlyList<string> Details, IReadOnlyList<KeyFigure> Figures, IReadOnlyList<Section> Sections);

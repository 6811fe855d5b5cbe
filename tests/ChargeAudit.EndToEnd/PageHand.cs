using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>A user's hand on the page: the mouse with typing where a field asks for it, or the keyboard and nothing else.</summary>
internal abstract class PageHand(IPage page)
{
    protected IPage Page { get; } = page;

    /// <summary>Presses what can be pressed.</summary>
    public abstract Task PressAsync(ILocator what, bool backwards = false);

    /// <summary>Fills a field, whatever stood in it.</summary>
    public abstract Task WriteAsync(ILocator field, string text, bool backwards = false);

    /// <summary>Chooses an entry of a list.</summary>
    public abstract Task ChooseAsync(ILocator list, string value);

    /// <summary>Chooses files in the browser's own dialogue.</summary>
    public async Task FilesAsync(ILocator field, string[] files)
    {
        var dialogue = await Page.RunAndWaitForFileChooserAsync(() => PressAsync(field));
        await dialogue.SetFilesAsync(files);
    }

    internal sealed class Mouse(IPage page) : PageHand(page)
    {
        public override Task PressAsync(ILocator what, bool backwards = false) => what.ClickAsync();

        public override async Task WriteAsync(ILocator field, string text, bool backwards = false)
        {
            await field.ClickAsync(new LocatorClickOptions { ClickCount = 3 });
            await Page.Keyboard.TypeAsync(text);
        }

        public override Task ChooseAsync(ILocator list, string value) => list.SelectOptionAsync(value);
    }

    internal sealed class Keyboard(IPage page) : PageHand(page)
    {
        private const int MostSteps = 150;

        public override async Task PressAsync(ILocator what, bool backwards = false)
        {
            await ReachAsync(what, backwards);
            await Page.Keyboard.PressAsync("Enter");
        }

        public override async Task WriteAsync(ILocator field, string text, bool backwards = false)
        {
            await ReachAsync(field, backwards);
            await Page.Keyboard.PressAsync("Control+a");
            await Page.Keyboard.TypeAsync(text);
        }

        public override async Task ChooseAsync(ILocator list, string value)
        {
            await ReachAsync(list, false);
            for (int i = 0; i < MostSteps && await list.InputValueAsync() != value; i++)
            {
                await Page.Keyboard.PressAsync("ArrowDown");
            }

            Assert.Equal(value, await list.InputValueAsync());
        }

        private async Task ReachAsync(ILocator what, bool backwards)
        {
            for (int i = 0; i < MostSteps; i++)
            {
                if (await what.EvaluateAsync<bool>("e => e === e.ownerDocument.activeElement"))
                {
                    return;
                }

                await Page.Keyboard.PressAsync(backwards ? "Shift+Tab" : "Tab");
            }

            Assert.Fail($"the keyboard does not reach {what}");
        }
    }
}

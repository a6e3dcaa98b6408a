using System.Net.Http.Headers;
using System.Text.RegularExpressions;

namespace CardScan.Web.Tests;

/// <summary>
/// Reads along whatever pages say in any test: no option and no command of the command line, but where deleting for good is meant.
/// </summary>
internal sealed partial class WordsHeard(HttpMessageHandler next) : DelegatingHandler(next)
{
    [GeneratedRegex(@"(?<![\w!-])--[a-z][a-z-]*|\bcardscan (?!archive prune|archive phones|profile remove)[a-z]+")]
    private static partial Regex OptionOrCommand { get; }

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        HttpResponseMessage answer = await base.SendAsync(request, cancellationToken);
        if (answer.Content.Headers is { ContentType: MediaTypeHeaderValue { MediaType: "text/html" }, ContentDisposition: null })
        {
            await answer.Content.LoadIntoBufferAsync(cancellationToken);
            string page = await answer.Content.ReadAsStringAsync(cancellationToken);
            Assert.True(!OptionOrCommand.IsMatch(page), $"{request.RequestUri}: \"{OptionOrCommand.Match(page)}\" in {page}");
        }

        return answer;
    }
}

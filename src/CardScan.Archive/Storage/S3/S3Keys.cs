namespace CardScan.Archive;

/// <summary>
/// The keys to an object store, from where Amazon's own programs take them: the variables AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY and
/// AWS_SESSION_TOKEN, else the profile AWS_PROFILE of the file AWS_SHARED_CREDENTIALS_FILE (usually <c>default</c> of
/// <c>~/.aws/credentials</c>).
/// </summary>
/// <remarks>
/// https://docs.aws.amazon.com/sdkref/latest/guide/file-format.html. As with the database's password, no address has them.
/// </remarks>
/// <param name="Id">The key's name.</param>
/// <param name="Secret">What only its holder knows.</param>
/// <param name="Token">What goes with keys that end soon; null for others.</param>
internal sealed record S3Keys(string Id, string Secret, string? Token)
{
    /// <summary>The keys of whoever runs the program; null where there are none.</summary>
    /// <param name="variable">The value of an environment variable.</param>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static S3Keys? Find(Func<string, string?> variable)
    {
        string? Named(string name) => variable(name) is { Length: > 0 } value ? value : null;
        if (Named("AWS_ACCESS_KEY_ID") is { } id && Named("AWS_SECRET_ACCESS_KEY") is { } secret)
            return new(id, secret, Named("AWS_SESSION_TOKEN"));
        string home = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
        string path = Named("AWS_SHARED_CREDENTIALS_FILE") ?? Path.Combine(home, ".aws", "credentials");
        return File.Exists(path) ? InFile(File.ReadLines(path), Named("AWS_PROFILE") ?? "default") : null;
    }

    /// <summary>Never tells a key.</summary>
    public override string ToString() => nameof(S3Keys);

    private static S3Keys? InFile(IEnumerable<string> lines, string profile)
    {
        Dictionary<string, string> values = [];
        bool isOurs = false;
        foreach (string line in lines.Select(line => line.Trim()))
        {
            if (line.StartsWith('[')) isOurs = line.Trim('[', ']', ' ') == profile;
            else if (isOurs && line is not ['#' or ';', ..] && line.Split('=', 2) is [var name, var value])
                values[name.Trim().ToLowerInvariant()] = value.Trim();
        }

        return values.GetValueOrDefault("aws_access_key_id") is { } id && values.GetValueOrDefault("aws_secret_access_key") is { } secret
            ? new(id, secret, values.GetValueOrDefault("aws_session_token"))
            : null;
    }
}

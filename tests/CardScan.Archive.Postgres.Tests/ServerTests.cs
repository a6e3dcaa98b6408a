using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>What only the archive of a workshop can meet.</summary>
public sealed class ServerTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void A_server_that_does_not_answer_is_named()
    {
        Refusal refusal = Refused("postgresql://keeper@127.0.0.1:1/cards?files=/srv/cards");
        Assert.Equal("archive-unreachable", refusal.ToldCode());
        Assert.Contains("postgresql://127.0.0.1:1/cards", refusal.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void A_database_that_is_not_there_is_named() =>
        Assert.Equal("archive-no-database", Refused(_scratch.Address.Replace("/test", "/best", StringComparison.Ordinal)).ToldCode());

    [Theory]
    [InlineData(null)]
    [InlineData("mistaken")]
    public void Without_the_right_password_nobody_is_let_in(string? password)
    {
        using PasswordFile _ = new(password);
        Refusal refusal = Refused(OfGuest());
        Assert.Equal("archive-login", refusal.ToldCode());
        Assert.DoesNotContain("mistaken", refusal.Seen, StringComparison.Ordinal);
    }

    [Fact]
    public void The_password_is_taken_from_the_password_file_and_who_may_only_look_is_told_so()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepCard(Kept.Json(Kept.Plan(5)));
        Sql($"GRANT USAGE ON SCHEMA cardscan TO {PostgresServer.Guest}");
        Sql($"GRANT SELECT ON ALL TABLES IN SCHEMA cardscan TO {PostgresServer.Guest}");
        using PasswordFile _ = new("quite secret");
        using CardArchive looking = CardArchive.Open(OfGuest(), _scratch.Clock).Value;
        Assert.Equal(5, Assert.Single(looking.Find(new()).Value).Number);
        Assert.Equal("archive-no-right", looking.KeepCard(Kept.Json(Kept.Plan(6))).Refusal!.ToldCode());
    }

    [Fact]
    public void Who_may_look_still_may_when_the_tables_have_been_brought_up_to_date()
    {
        PostgresDatabase.Open(PostgresAddress.Of(_scratch.Address).Value, mayMake: true, [PostgresDatabase.Scripts[0]]).Value.Dispose();
        Sql($"GRANT USAGE ON SCHEMA cardscan TO {PostgresServer.Guest}");
        Sql($"GRANT SELECT ON ALL TABLES IN SCHEMA cardscan TO {PostgresServer.Guest}");
        using (CardArchive archive = _scratch.Open()) archive.KeepCard(Kept.Json(Kept.Plan(5)));
        using PasswordFile _ = new("quite secret");
        using CardArchive looking = CardArchive.Open(OfGuest(), _scratch.Clock).Value;
        Assert.Equal(5, Assert.Single(looking.Find(new()).Value).Number);
    }

    [Fact]
    public void Another_programs_database_is_left_alone()
    {
        string address = _scratch.Address;
        Sql("CREATE TABLE recipe (name TEXT)");
        try
        {
            Assert.Equal("archive-foreign", Refused(address).ToldCode());
            Assert.Equal("recipe", Sql("SELECT tablename FROM pg_tables WHERE schemaname NOT IN ('pg_catalog', 'information_schema')"));
        }
        finally
        {
            Sql("DROP TABLE recipe");
        }
    }

    [Fact]
    public void A_database_that_cannot_hold_every_letter_is_refused()
    {
        PostgresServer.Shared.Sql("postgres", "CREATE DATABASE narrow ENCODING LATIN1 TEMPLATE template0");
        Assert.Equal("archive-encoding", Refused(new Uri(_scratch.Address) is var uri
            ? _scratch.Address.Replace(uri.AbsolutePath, "/narrow", StringComparison.Ordinal) : "").ToldCode());
    }

    [Fact]
    public void An_archive_of_a_newer_program_is_refused_and_an_older_one_brought_up_to_date()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepReading(Kept.Reading(Kept.Plan(5)));
        string[] scripts = [.. PostgresDatabase.Scripts, "ALTER TABLE card ADD COLUMN later TEXT; UPDATE card SET later = 'yes'"];
        using (PostgresDatabase newer = PostgresDatabase.Open(PostgresAddress.Of(_scratch.Address).Value, mayMake: false, scripts).Value)
            Assert.Equal(1, newer.Count("SELECT count(*) FROM card WHERE later = 'yes'"));
        Assert.Equal("archive-newer", Refused(_scratch.Address).ToldCode());
    }

    [Fact]
    public void A_migration_that_fails_leaves_the_older_schema()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepReading(Kept.Reading(Kept.Plan(5)));
        Assert.Throws<Npgsql.PostgresException>(() => PostgresDatabase.Open(
            PostgresAddress.Of(_scratch.Address).Value, mayMake: false,
            [.. PostgresDatabase.Scripts, "ALTER TABLE card ADD COLUMN later TEXT; INSERT INTO nowhere VALUES (1)"]));
        using CardArchive opened = _scratch.Open();
        Assert.True(opened.Verify().Value.IsSound);
    }

    [Fact]
    public void Where_no_archive_is_none_is_made_unasked()
    {
        Assert.Equal("archive-missing", CardArchive.Open(_scratch.Address, _scratch.Clock, mayMake: false).Refusal!.ToldCode());
        Assert.False(Directory.Exists(_scratch.Folder));
    }

    [Fact]
    public void A_folder_without_the_archives_files_is_refused_and_nothing_is_put_there()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepReading(Kept.Reading(Kept.Plan(5)));
        Directory.Move(_scratch.Folder, _scratch["moved"]);
        Assert.Equal("archive-files-gone", Refused(_scratch.Address).ToldCode());
        Assert.False(Directory.Exists(_scratch.Folder));

        // Mounted at another path it is the same folder.
        using CardArchive again = CardArchive.Open(
            _scratch.Address.Replace(_scratch.Folder, _scratch["moved"], StringComparison.Ordinal), _scratch.Clock).Value;
        Assert.True(again.Verify().Value.IsSound);
    }

    [Fact]
    public void The_files_of_another_archive_are_left_alone()
    {
        using (CardArchive own = CardArchive.Open(_scratch["own"], _scratch.Clock).Value) own.KeepReading(Kept.Reading(Kept.Plan(5)));
        string before = string.Join(' ', Directory.EnumerateFileSystemEntries(_scratch["own"], "*", SearchOption.AllDirectories).Order());
        Assert.Equal("archive-other-files",
            Refused(_scratch.Address.Replace(_scratch.Folder, _scratch["own"], StringComparison.Ordinal)).ToldCode());
        Assert.Equal(before,
            string.Join(' ', Directory.EnumerateFileSystemEntries(_scratch["own"], "*", SearchOption.AllDirectories).Order()));

        using (CardArchive one = _scratch.Open()) one.KeepReading(Kept.Reading(Kept.Plan(5)));
        Assert.Equal("archive-other-files",
            Refused(_scratch.AddressOf("two").Replace(_scratch.FolderOf("two"), _scratch.Folder, StringComparison.Ordinal)).ToldCode());
    }

    [Fact]
    public void What_others_change_is_seen_by_the_state()
    {
        using CardArchive archive = _scratch.Open();
        string? before = CardArchive.State(_scratch.Address);
        Assert.Equal(before, CardArchive.State(_scratch.Address));
        archive.KeepCard(Kept.Json(Kept.Plan(5)));
        Assert.NotEqual(before, CardArchive.State(_scratch.Address));
        Assert.Null(CardArchive.State("postgresql://127.0.0.1:1/cards?files=/srv/cards"));
    }

    /// <summary>A title is data, whatever it looks like, and letters that PostgreSQL has no sign for do not lose a card.</summary>
    [Theory]
    [InlineData("'; DROP TABLE card_words; --")]
    [InlineData("@words $1 :id \\' ''")]
    [InlineData("nul \0 and half a pair \uD800 of letters")]
    public void Every_title_is_kept_and_its_words_are_found(string title)
    {
        using CardArchive archive = _scratch.Open();
        archive.KeepCard(Kept.Json(Kept.Plan(5, title: title)));
        Assert.Single(archive.Find(new() { Text = string.Concat(title.Where(c => c != '\uD800')) }).Value);
        Assert.True(archive.Verify().Value.IsSound);
    }

    /// <summary>Ends the server as a power cut would while several keep readings, and starts it again.</summary>
    [Fact]
    public void What_was_said_to_be_kept_is_kept_when_the_server_dies_and_the_rest_is_said()
    {
        using PostgresServer server = new();
        server.Sql("postgres", "CREATE DATABASE cards");
        string address = $"postgresql://{PostgresServer.Owner}@127.0.0.1:{server.Port}/cards?files={_scratch["cards"]}";
        CardArchive.Open(address, _scratch.Clock).Value.Dispose();
        List<string> told = [];
        HashSet<string> refused = [];
        for (int round = 0; round < 3; round++)
        {
            Thread[] writers = [.. Enumerable.Range(0, 4).Select(writer => new Thread(() => Write($"{round} {writer}")))];
            foreach (Thread writer in writers) writer.Start();
            int wanted = 10 * (round + 1);
            Assert.True(SpinWait.SpinUntil(() => Told() >= wanted, TimeSpan.FromMinutes(1)));
            server.Kill();
            foreach (Thread writer in writers) writer.Join();
            server.Start();
        }

        Assert.Equal(["archive-unreachable"], refused);
        using CardArchive archive = CardArchive.Open(address, _scratch.Clock).Value;
        ArchiveHealth health = archive.Verify().Value;
        Assert.Empty(health.Faults);
        Assert.True(health.Readings >= told.Count);
        Assert.All(told, name => Assert.False(archive.Reading(archive.Resolve(name).Value.ReadingId!.Value).IsRefused));
        Assert.Equal(told.Count, told.Distinct().Count());

        int Told()
        {
            lock (told) return told.Count;
        }

        void Write(string name)
        {
            for (int i = 0; i < 10_000; i++)
            {
                Outcome<CardArchive> opened = CardArchive.Open(address, TimeProvider.System);
                Outcome<KeptReading> kept = opened.IsRefused
                    ? opened.Refusal!
                    : opened.Value.KeepReading(Kept.Reading(Kept.Plan(i % 250), $"{name} {i}"));
                if (!opened.IsRefused) opened.Value.Dispose();
                lock (told)
                {
                    if (kept.IsRefused)
                    {
                        refused.Add(kept.Refusal!.ToldCode());
                        return;
                    }

                    told.Add(kept.Value.Name);
                }
            }
        }
    }

    /// <summary>By its name in the network the machine is not known to be this one, so that the server must prove who it is.</summary>
    [Fact]
    public void A_server_elsewhere_must_prove_who_it_is()
    {
        string name = Dns.GetHostName();
        using ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        using X509Certificate2 certificate = Certificate(key, name), other = Certificate(key, "elsewhere.example");
        using PostgresServer server = new(certificate);
        server.Sql("postgres", "CREATE DATABASE cards");
        string address = $"postgresql://{PostgresServer.Owner}@{name}:{server.Port}/cards?files={_scratch["cards"]}";
        string signer = _scratch["signer.pem"];

        Assert.Equal("archive-untrusted", Refused(address).ToldCode());
        File.WriteAllText(signer, other.ExportCertificatePem());
        Assert.Equal("archive-untrusted", Refused($"{address}&sslrootcert={signer}").ToldCode());
        File.WriteAllText(signer, certificate.ExportCertificatePem());
        using (CardArchive archive = CardArchive.Open($"{address}&sslrootcert={signer}", _scratch.Clock).Value)
            Assert.False(archive.KeepCard(Kept.Json(Kept.Plan(5))).IsRefused);

        // A server that does not encrypt is not used at all.
        using PostgresServer plain = new();
        Assert.Equal("archive-untrusted", Refused(
            $"{address}&sslrootcert={signer}".Replace($":{server.Port}", $":{plain.Port}", StringComparison.Ordinal)).ToldCode());
    }

    /// <summary>The way to back up that docs/workshop.md tells.</summary>
    [Fact]
    public void A_dump_brings_everything_back()
    {
        using (CardArchive archive = _scratch.Open()) archive.KeepReading(Kept.Reading(Kept.Plan(5)));
        PostgresServer server = PostgresServer.Shared;
        string[] to = ["-h", "127.0.0.1", "-p", $"{server.Port}", "-U", PostgresServer.Owner];
        string dump = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.dump");
        server.Run("pg_dump", [.. to, "--format=custom", "--schema=cardscan", $"--file={dump}", Database]);
        server.Sql("postgres", "CREATE DATABASE restored");
        server.Run("pg_restore", [.. to, "--exit-on-error", "--dbname=restored", dump]);
        using CardArchive restored = CardArchive.Open(
            _scratch.Address.Replace($"/{Database}?", "/restored?", StringComparison.Ordinal), _scratch.Clock).Value;
        ArchiveHealth health = restored.Verify().Value;
        Assert.True(health is { IsSound: true, Readings: 1, Files: 3 });
        Assert.Equal("c2", restored.KeepCard(Kept.Json(Kept.Plan(6))).Value.Name);
    }

    private static X509Certificate2 Certificate(ECDsa key, string name)
    {
        CertificateRequest request = new($"CN={name}", key, HashAlgorithmName.SHA256);
        SubjectAlternativeNameBuilder names = new();
        names.AddDnsName(name);
        request.CertificateExtensions.Add(names.Build());
        return request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
    }

    private Refusal Refused(string address) => CardArchive.Open(address, _scratch.Clock).Refusal!;

    private string OfGuest() => _scratch.Address.Replace(PostgresServer.Owner, PostgresServer.Guest, StringComparison.Ordinal);

    private string Database => new Uri(_scratch.Address).AbsolutePath.Trim('/');

    private string Sql(string sql) => PostgresServer.Shared.Sql(Database, sql);

    /// <summary>PostgreSQL's file of passwords, as PGPASSFILE names it.</summary>
    private sealed class PasswordFile : IDisposable
    {
        private readonly string _path = Path.GetTempFileName();

        public PasswordFile(string? password)
        {
            if (password is not null) File.WriteAllText(_path, $"*:*:*:*:{password}\n");
            Environment.SetEnvironmentVariable("PGPASSFILE", _path);
        }

        public void Dispose()
        {
            Environment.SetEnvironmentVariable("PGPASSFILE", null);
            File.Delete(_path);
        }
    }
}

-- People who use the archive by its page. Whoever left stays here: what they did keeps their name.
CREATE TABLE member (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL,
    called TEXT NOT NULL, -- the name in small letters: two members are not called the same
    role TEXT NOT NULL CHECK (role IN ('look', 'add', 'keep')),
    joined_utc TEXT NOT NULL,
    left_utc TEXT
) STRICT;
CREATE UNIQUE INDEX member_by_name ON member (called) WHERE left_utc IS NULL;

-- The browsers in which a member is known, by the fingerprint of what each shows.
CREATE TABLE member_device (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    member_id INTEGER NOT NULL REFERENCES member (id) ON DELETE CASCADE,
    key_sha256 TEXT NOT NULL UNIQUE CHECK (length(key_sha256) = 64),
    device TEXT NOT NULL,
    since_utc TEXT NOT NULL,
    seen_on TEXT NOT NULL
) STRICT;
CREATE INDEX member_device_by_member ON member_device (member_id);

CREATE TABLE invitation (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code_sha256 TEXT NOT NULL UNIQUE CHECK (length(code_sha256) = 64),
    role TEXT NOT NULL CHECK (role IN ('look', 'add', 'keep')),
    member_id INTEGER REFERENCES member (id) ON DELETE CASCADE, -- whose other device it lets in; null where new members join
    times_left INTEGER NOT NULL,
    until_utc TEXT NOT NULL,
    made_by TEXT NOT NULL
) STRICT;
CREATE INDEX invitation_by_member ON invitation (member_id);

-- Who did what, where an archive is used by more than one. What it was done to may be gone by now.
CREATE TABLE deed (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    done_utc TEXT NOT NULL,
    name TEXT NOT NULL,
    member_id INTEGER,
    what TEXT NOT NULL,
    subject TEXT NOT NULL,
    card_id INTEGER
) STRICT;
CREATE INDEX deed_by_card ON deed (card_id, id);
CREATE INDEX deed_by_what ON deed (what, id);

-- Times are UTC, ISO 8601. Names of settings and measurements are those of plan.json and reading.json, units included.

CREATE TABLE machine (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    rated_optical_watts REAL NOT NULL,
    UNIQUE (name, rated_optical_watts)
) STRICT;

CREATE TABLE material (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE batch (
    id INTEGER PRIMARY KEY,
    material_id INTEGER NOT NULL REFERENCES material (id),
    name TEXT NOT NULL,
    UNIQUE (material_id, name)
) STRICT;

-- A card with the plan that it is burned from. Ids are never given twice: they are the names c1, c2, … that people note.
CREATE TABLE card (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    number INTEGER NOT NULL CHECK (number BETWEEN 0 AND 249),
    plan_sha256 TEXT NOT NULL UNIQUE CHECK (length(plan_sha256) = 64),
    plan BLOB NOT NULL, -- the bytes of plan.json, Brotli
    title TEXT NOT NULL,
    process TEXT NOT NULL CHECK (process IN ('engrave', 'cut')),
    material_id INTEGER NOT NULL REFERENCES material (id),
    thickness_mm REAL,
    batch_id INTEGER REFERENCES batch (id),
    machine_id INTEGER NOT NULL REFERENCES machine (id),
    kept_utc TEXT NOT NULL,
    closed_utc TEXT -- a closed card's plan is not looked for any more
) STRICT;
CREATE INDEX card_by_number ON card (number, id);
CREATE INDEX card_by_material ON card (material_id, id);
CREATE INDEX card_by_batch ON card (batch_id, id);
CREATE INDEX card_by_machine ON card (machine_id, id);

-- A file beside the database, named after its content; never changed.
CREATE TABLE file (
    sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
    extension TEXT NOT NULL,
    size_bytes INTEGER NOT NULL,
    kept_utc TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    card_id INTEGER NOT NULL REFERENCES card (id),
    reading_sha256 TEXT NOT NULL UNIQUE CHECK (length(reading_sha256) = 64),
    reading BLOB NOT NULL, -- the bytes of reading.json, Brotli
    photo_set_sha256 TEXT NOT NULL, -- of the photos' fingerprints: what was read, whatever their order
    is_current INTEGER NOT NULL CHECK (is_current IN (0, 1)), -- 0: the same photos were read again later
    report_sha256 TEXT REFERENCES file (sha256),
    read_utc TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX reading_current ON reading (card_id, photo_set_sha256) WHERE is_current = 1;
CREATE INDEX reading_by_card ON reading (card_id, id);
CREATE INDEX reading_by_time ON reading (read_utc);
CREATE INDEX reading_by_report ON reading (report_sha256);

CREATE TABLE photo (
    reading_id INTEGER NOT NULL REFERENCES reading (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    file_name TEXT NOT NULL,
    light TEXT NOT NULL CHECK (light IN ('front', 'back')),
    photo_sha256 TEXT NOT NULL, -- as the reading has it
    kept_sha256 TEXT REFERENCES file (sha256), -- absent where only the reading was kept
    annotated_sha256 TEXT REFERENCES file (sha256),
    PRIMARY KEY (reading_id, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX photo_by_kept ON photo (kept_sha256);
CREATE INDEX photo_by_annotated ON photo (annotated_sha256);

CREATE TABLE recommendation (
    reading_id INTEGER NOT NULL REFERENCES reading (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    goal TEXT NOT NULL,
    power_percent REAL NOT NULL,
    speed_mm_per_min REAL NOT NULL,
    cell_row INTEGER,
    cell_column INTEGER,
    reason TEXT NOT NULL,
    confidence REAL,
    interval_quantity TEXT,
    interval_value REAL,
    interval_low REAL,
    interval_high REAL,
    PRIMARY KEY (reading_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE cell (
    reading_id INTEGER NOT NULL REFERENCES reading (id) ON DELETE CASCADE,
    row INTEGER NOT NULL,
    "column" INTEGER NOT NULL,
    power_percent REAL NOT NULL,
    speed_mm_per_min REAL NOT NULL,
    passes INTEGER NOT NULL,
    focus_offset_mm REAL NOT NULL,
    line_interval_mm REAL,
    dose REAL, -- J/mm2 of engraved cells, J/mm of cut ones
    darkness REAL,
    darkness_standard_error REAL,
    contrast REAL,
    delta_e2000 REAL,
    evenness REAL,
    halo_mm REAL,
    through TEXT,
    left_state TEXT,
    right_state TEXT,
    top_state TEXT,
    bottom_state TEXT,
    flags TEXT, -- codes, apart by spaces
    PRIMARY KEY (reading_id, row, "column")
) STRICT, WITHOUT ROWID;

-- Of one card, one reading or one batch.
CREATE TABLE note (
    id INTEGER PRIMARY KEY,
    card_id INTEGER REFERENCES card (id) ON DELETE CASCADE,
    reading_id INTEGER REFERENCES reading (id) ON DELETE CASCADE,
    batch_id INTEGER REFERENCES batch (id) ON DELETE CASCADE,
    text TEXT NOT NULL,
    written_utc TEXT NOT NULL,
    CHECK ((card_id IS NOT NULL) + (reading_id IS NOT NULL) + (batch_id IS NOT NULL) = 1)
) STRICT;
CREATE UNIQUE INDEX note_once ON note (ifnull(card_id, 0), ifnull(reading_id, 0), ifnull(batch_id, 0), text);
CREATE INDEX note_by_reading ON note (reading_id);
CREATE INDEX note_by_batch ON note (batch_id);

CREATE TABLE tag (
    id INTEGER PRIMARY KEY,
    card_id INTEGER REFERENCES card (id) ON DELETE CASCADE,
    reading_id INTEGER REFERENCES reading (id) ON DELETE CASCADE,
    batch_id INTEGER REFERENCES batch (id) ON DELETE CASCADE,
    word TEXT NOT NULL,
    CHECK ((card_id IS NOT NULL) + (reading_id IS NOT NULL) + (batch_id IS NOT NULL) = 1)
) STRICT;
CREATE UNIQUE INDEX tag_once ON tag (ifnull(card_id, 0), ifnull(reading_id, 0), ifnull(batch_id, 0), word);
CREATE INDEX tag_by_card ON tag (card_id);
CREATE INDEX tag_by_reading ON tag (reading_id);
CREATE INDEX tag_by_batch ON tag (batch_id);

-- The words of a card, for free text; rowid is the card's id.
CREATE VIRTUAL TABLE card_words USING fts5 (words, content = '', contentless_delete = 1, tokenize = 'unicode61 remove_diacritics 2');

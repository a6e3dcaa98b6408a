-- Phones whose tone curve a series of photos told, by the words of their files; an absent word is empty.
CREATE TABLE phone (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    make TEXT NOT NULL,
    model TEXT NOT NULL,
    lens TEXT NOT NULL,
    software TEXT NOT NULL,
    UNIQUE (make, model, lens, software)
) STRICT;

-- Series of photos; their curve stands in the reading. Those of one day count as one: they share light and table.
CREATE TABLE tone_series (
    phone_id INTEGER NOT NULL REFERENCES phone (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    reading_id INTEGER NOT NULL REFERENCES reading (id) ON DELETE CASCADE,
    PRIMARY KEY (phone_id, day)
) STRICT, WITHOUT ROWID;
CREATE INDEX tone_series_by_reading ON tone_series (reading_id);

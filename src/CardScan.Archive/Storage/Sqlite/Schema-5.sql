-- How much energy a reading's card needed, by its own cells: counted once, and again where the row is missing or of an older version.
CREATE TABLE need (
    reading_id INTEGER PRIMARY KEY REFERENCES reading (id) ON DELETE CASCADE,
    version INTEGER NOT NULL,
    ln_energy REAL, -- null with what follows where the card does not tell
    standard_error REAL,
    speed_mm_per_min REAL,
    speed_exponent REAL,
    speed_exponent_error REAL,
    manner TEXT NOT NULL,
    taken TEXT -- by the camera's own clock
) STRICT;

-- What was done to a machine, by the clock of the workshop: its cards are held against each other anew after that.
CREATE TABLE machine_change (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    machine_id INTEGER NOT NULL REFERENCES machine (id) ON DELETE CASCADE,
    done_on TEXT NOT NULL,
    what TEXT NOT NULL
) STRICT;
CREATE INDEX machine_change_by_machine ON machine_change (machine_id);

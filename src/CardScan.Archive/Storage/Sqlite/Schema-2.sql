-- A recommended setting may stand on an earlier card, whose cells are another reading's: its number, and what the cell was burned with.
ALTER TABLE recommendation ADD COLUMN earlier_card INTEGER;
ALTER TABLE recommendation ADD COLUMN earlier_passes INTEGER;
ALTER TABLE recommendation ADD COLUMN earlier_focus_offset_mm REAL;
ALTER TABLE recommendation ADD COLUMN earlier_line_interval_mm REAL;

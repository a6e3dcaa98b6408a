-- Each name with the one that it is kept under, found from the name upwards: a question about some cards looks at their names alone.
-- Replaced, not made anew: whoever may look at them still may.
CREATE OR REPLACE VIEW material_kept AS
    SELECT own.id, root.id AS root, own.name AS own_name, root.name
    FROM material AS own JOIN material AS root ON root.id = CASE WHEN own.stands_for IS NULL THEN own.id ELSE (
        WITH RECURSIVE chain (id, stands_for) AS (
            SELECT id, stands_for FROM material WHERE id = own.stands_for
            UNION SELECT up.id, up.stands_for FROM material AS up JOIN chain ON up.id = chain.stands_for)
        SELECT id FROM chain WHERE stands_for IS NULL) END;
CREATE OR REPLACE VIEW machine_kept AS
    SELECT own.id, root.id AS root, own.name AS own_name, root.name, own.rated_optical_watts
    FROM machine AS own JOIN machine AS root ON root.id = CASE WHEN own.stands_for IS NULL THEN own.id ELSE (
        WITH RECURSIVE chain (id, stands_for) AS (
            SELECT id, stands_for FROM machine WHERE id = own.stands_for
            UNION SELECT up.id, up.stands_for FROM machine AS up JOIN chain ON up.id = chain.stands_for)
        SELECT id FROM chain WHERE stands_for IS NULL) END;
CREATE OR REPLACE VIEW batch_kept AS
    SELECT own.id, root.id AS root, material_kept.root AS material_root, own.name AS own_name, root.name
    FROM batch AS own JOIN batch AS root ON root.id = CASE WHEN own.stands_for IS NULL THEN own.id ELSE (
        WITH RECURSIVE chain (id, stands_for) AS (
            SELECT id, stands_for FROM batch WHERE id = own.stands_for
            UNION SELECT up.id, up.stands_for FROM batch AS up JOIN chain ON up.id = chain.stands_for)
        SELECT id FROM chain WHERE stands_for IS NULL) END
    JOIN material_kept ON material_kept.id = own.material_id;

-- Cards of one material and machine, whose settings are held against each other; of each card the newest reading; and what days ask for.
CREATE INDEX card_by_kind ON card (material_id, machine_id);
CREATE INDEX card_by_time ON card (kept_utc);
CREATE INDEX reading_of_card ON reading (card_id, read_utc, id) WHERE is_current = 1;
-- Which goals a reading has, without its reasons, which take most of the room.
CREATE INDEX recommendation_by_goal ON recommendation (reading_id, position, goal);

-- What tells one machine from another beside its name and its watts, and the air that a card was burned with; of its plan.
ALTER TABLE card ADD COLUMN wavelength_nm REAL;
ALTER TABLE card ADD COLUMN beam_x_mm REAL;
ALTER TABLE card ADD COLUMN beam_y_mm REAL;
ALTER TABLE card ADD COLUMN beam_mode TEXT;
ALTER TABLE card ADD COLUMN air_is_on INTEGER;
ALTER TABLE card ADD COLUMN air_pressure TEXT;
UPDATE card SET
    wavelength_nm = json_extract(plan_json(plan), '$.machine.wavelengthNm'),
    beam_x_mm = json_extract(plan_json(plan), '$.machine.beamXMm'),
    beam_y_mm = json_extract(plan_json(plan), '$.machine.beamYMm'),
    beam_mode = json_extract(plan_json(plan), '$.machine.beamMode'),
    air_is_on = json_extract(plan_json(plan), '$.fixed.airAssist.isOn'),
    air_pressure = json_extract(plan_json(plan), '$.fixed.airAssist.pressure');

-- A name under which something is kept no more: what it stands for. The cards keep their own, so that it can be taken back.
ALTER TABLE material ADD COLUMN stands_for INTEGER REFERENCES material (id);
ALTER TABLE machine ADD COLUMN stands_for INTEGER REFERENCES machine (id);
ALTER TABLE batch ADD COLUMN stands_for INTEGER REFERENCES batch (id);

-- Each name with the one that it is kept under at last: its own where it stands for nothing else.
CREATE VIEW material_kept AS
    WITH RECURSIVE chain (id, root) AS (
        SELECT id, id FROM material WHERE stands_for IS NULL
        UNION ALL SELECT material.id, chain.root FROM material JOIN chain ON material.stands_for = chain.id)
    SELECT chain.id, chain.root, own.name AS own_name, root.name
    FROM chain JOIN material AS own ON own.id = chain.id JOIN material AS root ON root.id = chain.root;
CREATE VIEW machine_kept AS
    WITH RECURSIVE chain (id, root) AS (
        SELECT id, id FROM machine WHERE stands_for IS NULL
        UNION ALL SELECT machine.id, chain.root FROM machine JOIN chain ON machine.stands_for = chain.id)
    SELECT chain.id, chain.root, own.name AS own_name, root.name, own.rated_optical_watts
    FROM chain JOIN machine AS own ON own.id = chain.id JOIN machine AS root ON root.id = chain.root;
CREATE VIEW batch_kept AS
    WITH RECURSIVE chain (id, root) AS (
        SELECT id, id FROM batch WHERE stands_for IS NULL
        UNION ALL SELECT batch.id, chain.root FROM batch JOIN chain ON batch.stands_for = chain.id)
    SELECT chain.id, chain.root, material_kept.root AS material_root, own.name AS own_name, root.name
    FROM chain JOIN batch AS own ON own.id = chain.id JOIN batch AS root ON root.id = chain.root
    JOIN material_kept ON material_kept.id = own.material_id;

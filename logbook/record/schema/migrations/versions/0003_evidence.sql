-- What evidence is, as SQLite takes it: tables whose constraints change are made anew. On PostgreSQL INTEGER is
-- BIGINT, STRICT and WITHOUT ROWID fall away, and what refers to a table that is made anew is said again.

CREATE TABLE watch_before AS SELECT * FROM watch;
DROP TABLE watch;

CREATE TABLE watch (
    id INTEGER NOT NULL,
    name TEXT NOT NULL,
    name_key TEXT NOT NULL,
    mark TEXT NOT NULL,
    marked_pa INTEGER,
    marked_in TEXT NOT NULL,
    added_on TEXT NOT NULL,
    recorded_from TEXT NOT NULL,
    crown TEXT NOT NULL,
    pushers INTEGER NOT NULL,
    gas_valve INTEGER NOT NULL,
    pushers_wet INTEGER NOT NULL,
    case_material TEXT NOT NULL,
    movement TEXT NOT NULL,
    stated_use TEXT NOT NULL,
    bought_on TEXT,
    new_on TEXT,
    made_from INTEGER,
    made_to INTEGER,
    worn_min INTEGER NOT NULL,
    winds_per_1000_weeks INTEGER NOT NULL,
    presses_per_1000_weeks INTEGER NOT NULL,
    reference TEXT NOT NULL,
    note TEXT NOT NULL,
    shelf_group TEXT NOT NULL,
    retired_on TEXT,
    confirmed_on TEXT,
    CONSTRAINT pk_watch PRIMARY KEY (id),
    CONSTRAINT uq_watch_name_key UNIQUE (name_key),
    CONSTRAINT ck_watch_name_given CHECK (length(name) >= 1),
    CONSTRAINT ck_watch_mark_word CHECK (mark IN ('unmarked', 'unknown', 'water-resistant', 'divers', 'divers-mixed-gas')),
    CONSTRAINT ck_watch_marked_pa_range CHECK (marked_pa BETWEEN 0 AND 200000000),
    CONSTRAINT ck_watch_crown_word CHECK (crown IN ('screwed', 'pushed')),
    CONSTRAINT ck_watch_pushers_flag CHECK (pushers IN (0, 1)),
    CONSTRAINT ck_watch_gas_valve_flag CHECK (gas_valve IN (0, 1)),
    CONSTRAINT ck_watch_pushers_wet_flag CHECK (pushers_wet IN (0, 1)),
    CONSTRAINT ck_watch_marked_in_word CHECK (marked_in IN ('bar', 'm')),
    CONSTRAINT ck_watch_made_from_range CHECK (made_from BETWEEN 1800 AND 2200),
    CONSTRAINT ck_watch_made_to_range CHECK (made_to BETWEEN 1800 AND 2200),
    CONSTRAINT ck_watch_made_both CHECK ((made_from IS NULL) = (made_to IS NULL)),
    CONSTRAINT ck_watch_made_in_order CHECK (made_from <= made_to),
    CONSTRAINT ck_watch_movement_word CHECK (movement IN ('mechanical', 'quartz')),
    CONSTRAINT ck_watch_stated_use_word CHECK (stated_use IN ('diving', 'swimming', 'dry')),
    CONSTRAINT ck_watch_worn_min_range CHECK (worn_min BETWEEN 0 AND 1440),
    CONSTRAINT ck_watch_winds_per_1000_weeks_range CHECK (winds_per_1000_weeks BETWEEN 0 AND 10000000),
    CONSTRAINT ck_watch_presses_per_1000_weeks_range CHECK (presses_per_1000_weeks BETWEEN 0 AND 10000000),
    CONSTRAINT ck_watch_added_on_date CHECK (added_on LIKE '____-__-__'),
    CONSTRAINT ck_watch_recorded_from_date CHECK (recorded_from LIKE '____-__-__'),
    CONSTRAINT ck_watch_bought_on_date CHECK (bought_on LIKE '____-__-__'),
    CONSTRAINT ck_watch_new_on_date CHECK (new_on LIKE '____-__-__'),
    CONSTRAINT ck_watch_retired_on_date CHECK (retired_on LIKE '____-__-__'),
    CONSTRAINT ck_watch_confirmed_on_date CHECK (confirmed_on LIKE '____-__-__')
) STRICT;

INSERT INTO watch (id, name, name_key, mark, marked_pa, marked_in, added_on, recorded_from, crown, pushers,
    gas_valve, pushers_wet, case_material, movement, stated_use, bought_on, new_on, made_from, made_to,
    worn_min, winds_per_1000_weeks, presses_per_1000_weeks, reference, note, shelf_group, retired_on,
    confirmed_on)
SELECT id, name, name_key, mark, marked_pa, 'bar', added_on, recorded_from, crown, pushers, gas_valve, 0,
    case_material, movement, stated_use, bought_on, new_on, NULL, NULL, worn_min, winds_per_1000_weeks,
    presses_per_1000_weeks, reference, note, shelf_group, retired_on, confirmed_on
FROM watch_before;
DROP TABLE watch_before;

CREATE TABLE event_before AS SELECT * FROM event;
DROP TABLE event;

CREATE TABLE event (
    id INTEGER NOT NULL,
    watch_id INTEGER NOT NULL,
    kind TEXT NOT NULL,
    happened_on TEXT NOT NULL,
    span_first TEXT,
    span_last TEXT,
    day_order INTEGER NOT NULL,
    passed INTEGER,
    test_pa INTEGER,
    to_mark INTEGER NOT NULL,
    medium TEXT,
    test_s INTEGER,
    deflection_nm INTEGER,
    repaired TEXT,
    crystal_mk INTEGER,
    case_air_mk INTEGER,
    moved INTEGER NOT NULL,
    workshop TEXT NOT NULL,
    note TEXT NOT NULL,
    CONSTRAINT pk_event PRIMARY KEY (id),
    CONSTRAINT ck_event_kind_word CHECK (kind IN ('gaskets', 'opened', 'battery', 'movement', 'strap', 'pressure-test', 'condensation-test', 'repaired', 'fog', 'water-inside', 'crown-damaged', 'crystal-damaged', 'pushers-damaged', 'gas-valve-damaged', 'knock')),
    CONSTRAINT ck_event_medium_word CHECK (medium IN ('air', 'vacuum', 'water')),
    CONSTRAINT ck_event_repaired_word CHECK (repaired IN ('gaskets', 'opened', 'battery', 'movement', 'strap', 'pressure-test', 'condensation-test', 'repaired', 'fog', 'water-inside', 'crown-damaged', 'crystal-damaged', 'pushers-damaged', 'gas-valve-damaged', 'knock')),
    CONSTRAINT ck_event_passed_flag CHECK (passed IN (0, 1)),
    CONSTRAINT ck_event_test_pa_range CHECK (test_pa BETWEEN 0 AND 400000000),
    CONSTRAINT ck_event_test_s_range CHECK (test_s BETWEEN 0 AND 10000000),
    CONSTRAINT ck_event_deflection_nm_range CHECK (deflection_nm BETWEEN -10000000 AND 10000000),
    CONSTRAINT ck_event_crystal_mk_range CHECK (crystal_mk BETWEEN 213150 AND 373150),
    CONSTRAINT ck_event_case_air_mk_range CHECK (case_air_mk BETWEEN 213150 AND 373150),
    CONSTRAINT ck_event_day_order_range CHECK (day_order BETWEEN 0 AND 10000),
    CONSTRAINT ck_event_passed_of_test CHECK ((kind IN ('pressure-test', 'condensation-test')) = (passed IS NOT NULL)),
    CONSTRAINT ck_event_repaired_of_repair CHECK ((kind = 'repaired') = (repaired IS NOT NULL)),
    CONSTRAINT ck_event_to_mark_flag CHECK (to_mark IN (0, 1)),
    CONSTRAINT ck_event_moved_flag CHECK (moved IN (0, 1)),
    CONSTRAINT ck_event_to_mark_of_test CHECK (to_mark = 0 OR (kind = 'pressure-test' AND test_pa IS NOT NULL)),
    CONSTRAINT ck_event_moved_of_knock CHECK (moved = 0 OR kind = 'knock'),
    CONSTRAINT ck_event_span_both CHECK ((span_first IS NULL) = (span_last IS NULL)),
    CONSTRAINT ck_event_span_in_order CHECK (span_first < span_last),
    CONSTRAINT ck_event_span_counts CHECK (happened_on IN (span_first, span_last)),
    CONSTRAINT ck_event_happened_on_date CHECK (happened_on LIKE '____-__-__'),
    CONSTRAINT ck_event_span_first_date CHECK (span_first LIKE '____-__-__'),
    CONSTRAINT ck_event_span_last_date CHECK (span_last LIKE '____-__-__'),
    CONSTRAINT fk_event_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_event_happened_on ON event (happened_on);
CREATE INDEX ix_event_watch_id_happened_on ON event (watch_id, happened_on);

INSERT INTO event (id, watch_id, kind, happened_on, span_first, span_last, day_order, passed, test_pa,
    to_mark, medium, test_s, deflection_nm, repaired, crystal_mk, case_air_mk, moved, workshop, note)
SELECT id, watch_id, COALESCE((SELECT word FROM word_before WHERE was = kind), kind), happened_on, NULL, NULL,
    day_order, passed, test_pa, 0, medium, test_s, deflection_nm, COALESCE((SELECT word FROM word_before WHERE
    was = repaired), repaired), crystal_mk, case_air_mk, 0, workshop, note
FROM event_before;
DROP TABLE event_before;

CREATE TABLE exposure_before AS SELECT * FROM exposure;
DROP TABLE exposure;

CREATE TABLE exposure (
    activity TEXT NOT NULL,
    water TEXT NOT NULL,
    depth_mm INTEGER NOT NULL,
    basis TEXT NOT NULL,
    gauge_pa INTEGER NOT NULL,
    duration_s INTEGER NOT NULL,
    water_mk INTEGER NOT NULL,
    water_assumed INTEGER NOT NULL,
    from_mk INTEGER NOT NULL,
    salinity_ppm INTEGER,
    density_g_m3 INTEGER,
    dips INTEGER NOT NULL,
    rinsed INTEGER NOT NULL,
    crown_wet INTEGER NOT NULL,
    crown_under INTEGER NOT NULL,
    pusher_wet INTEGER NOT NULL,
    pusher_under INTEGER NOT NULL,
    crown_open INTEGER NOT NULL,
    pushers_open INTEGER NOT NULL,
    jump_mm INTEGER NOT NULL,
    note TEXT NOT NULL,
    id INTEGER NOT NULL,
    watch_id INTEGER NOT NULL,
    starts_on TEXT NOT NULL,
    starts_at TEXT,
    zone TEXT NOT NULL,
    utc_offset_s INTEGER,
    planned INTEGER NOT NULL,
    planned_to TEXT,
    CONSTRAINT pk_exposure PRIMARY KEY (id),
    CONSTRAINT ck_exposure_activity_given CHECK (length(activity) BETWEEN 1 AND 40),
    CONSTRAINT ck_exposure_water_word CHECK (water IN ('sea', 'brackish', 'fresh', 'pool', 'soap', 'hot tub', 'air')),
    CONSTRAINT ck_exposure_basis_word CHECK (basis IN ('EN 13319', 'fresh', 'true')),
    CONSTRAINT ck_exposure_depth_mm_range CHECK (depth_mm BETWEEN 0 AND 400000),
    CONSTRAINT ck_exposure_gauge_pa_range CHECK (gauge_pa BETWEEN 0 AND 5000000),
    CONSTRAINT ck_exposure_duration_s_range CHECK (duration_s BETWEEN 0 AND 172800),
    CONSTRAINT ck_exposure_from_mk_range CHECK (from_mk BETWEEN 233150 AND 393150),
    CONSTRAINT ck_exposure_salinity_ppm_range CHECK (salinity_ppm BETWEEN 0 AND 360000),
    CONSTRAINT ck_exposure_density_g_m3_range CHECK (density_g_m3 BETWEEN 900000 AND 1400000),
    CONSTRAINT ck_exposure_dips_range CHECK (dips BETWEEN 1 AND 10000),
    CONSTRAINT ck_exposure_jump_mm_range CHECK (jump_mm BETWEEN 0 AND 100000),
    CONSTRAINT ck_exposure_water_mk_range CHECK (water_mk BETWEEN 270150 AND 333150 OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)),
    CONSTRAINT ck_exposure_crown_wet_range CHECK (crown_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_crown_under_range CHECK (crown_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_pusher_wet_range CHECK (pusher_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_pusher_under_range CHECK (pusher_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_rinsed_flag CHECK (rinsed IN (0, 1)),
    CONSTRAINT ck_exposure_water_assumed_flag CHECK (water_assumed IN (0, 1)),
    CONSTRAINT ck_exposure_crown_open_flag CHECK (crown_open IN (0, 1)),
    CONSTRAINT ck_exposure_pushers_open_flag CHECK (pushers_open IN (0, 1)),
    CONSTRAINT ck_exposure_planned_flag CHECK (planned IN (0, 1)),
    CONSTRAINT ck_exposure_planned_to_of_plan CHECK (planned_to IS NULL OR (planned = 1 AND planned_to >= starts_on)),
    CONSTRAINT ck_exposure_utc_offset_s_range CHECK (utc_offset_s BETWEEN -86400 AND 86400),
    CONSTRAINT ck_exposure_starts_at_time CHECK (starts_at LIKE '__:__:__'),
    CONSTRAINT ck_exposure_starts_on_date CHECK (starts_on LIKE '____-__-__'),
    CONSTRAINT ck_exposure_planned_to_date CHECK (planned_to LIKE '____-__-__'),
    CONSTRAINT fk_exposure_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_exposure_starts_on ON exposure (starts_on);
CREATE INDEX ix_exposure_watch_id_planned_starts_on ON exposure (watch_id, planned, starts_on);

INSERT INTO exposure (activity, water, depth_mm, basis, gauge_pa, duration_s, water_mk, water_assumed,
    from_mk, salinity_ppm, density_g_m3, dips, rinsed, crown_wet, crown_under, pusher_wet, pusher_under,
    crown_open, pushers_open, jump_mm, note, id, watch_id, starts_on, starts_at, zone, utc_offset_s, planned,
    planned_to)
SELECT activity, water, depth_mm, basis, gauge_pa, duration_s, water_mk, water_assumed, from_mk, salinity_ppm,
    NULL, dips, rinsed, crown_wet, crown_under, pusher_wet, pusher_under, 0, 0, jump_mm, note, id, watch_id,
    starts_on, starts_at, zone, utc_offset_s, planned, planned_to
FROM exposure_before;
DROP TABLE exposure_before;

CREATE TABLE habit_before AS SELECT * FROM habit;
DROP TABLE habit;

CREATE TABLE habit (
    activity TEXT NOT NULL,
    water TEXT NOT NULL,
    depth_mm INTEGER NOT NULL,
    basis TEXT NOT NULL,
    gauge_pa INTEGER NOT NULL,
    duration_s INTEGER NOT NULL,
    water_mk INTEGER NOT NULL,
    water_assumed INTEGER NOT NULL,
    from_mk INTEGER NOT NULL,
    salinity_ppm INTEGER,
    density_g_m3 INTEGER,
    dips INTEGER NOT NULL,
    rinsed INTEGER NOT NULL,
    crown_wet INTEGER NOT NULL,
    crown_under INTEGER NOT NULL,
    pusher_wet INTEGER NOT NULL,
    pusher_under INTEGER NOT NULL,
    crown_open INTEGER NOT NULL,
    pushers_open INTEGER NOT NULL,
    jump_mm INTEGER NOT NULL,
    note TEXT NOT NULL,
    id INTEGER NOT NULL,
    watch_id INTEGER NOT NULL,
    per_1000_weeks INTEGER NOT NULL,
    from_on TEXT NOT NULL,
    to_on TEXT,
    CONSTRAINT pk_habit PRIMARY KEY (id),
    CONSTRAINT ck_habit_activity_given CHECK (length(activity) BETWEEN 1 AND 40),
    CONSTRAINT ck_habit_water_word CHECK (water IN ('sea', 'brackish', 'fresh', 'pool', 'soap', 'hot tub', 'air')),
    CONSTRAINT ck_habit_basis_word CHECK (basis IN ('EN 13319', 'fresh', 'true')),
    CONSTRAINT ck_habit_depth_mm_range CHECK (depth_mm BETWEEN 0 AND 400000),
    CONSTRAINT ck_habit_gauge_pa_range CHECK (gauge_pa BETWEEN 0 AND 5000000),
    CONSTRAINT ck_habit_duration_s_range CHECK (duration_s BETWEEN 0 AND 172800),
    CONSTRAINT ck_habit_from_mk_range CHECK (from_mk BETWEEN 233150 AND 393150),
    CONSTRAINT ck_habit_salinity_ppm_range CHECK (salinity_ppm BETWEEN 0 AND 360000),
    CONSTRAINT ck_habit_density_g_m3_range CHECK (density_g_m3 BETWEEN 900000 AND 1400000),
    CONSTRAINT ck_habit_dips_range CHECK (dips BETWEEN 1 AND 10000),
    CONSTRAINT ck_habit_jump_mm_range CHECK (jump_mm BETWEEN 0 AND 100000),
    CONSTRAINT ck_habit_water_mk_range CHECK (water_mk BETWEEN 270150 AND 333150 OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)),
    CONSTRAINT ck_habit_crown_wet_range CHECK (crown_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_crown_under_range CHECK (crown_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_pusher_wet_range CHECK (pusher_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_pusher_under_range CHECK (pusher_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_rinsed_flag CHECK (rinsed IN (0, 1)),
    CONSTRAINT ck_habit_water_assumed_flag CHECK (water_assumed IN (0, 1)),
    CONSTRAINT ck_habit_crown_open_flag CHECK (crown_open IN (0, 1)),
    CONSTRAINT ck_habit_pushers_open_flag CHECK (pushers_open IN (0, 1)),
    CONSTRAINT ck_habit_per_1000_weeks_range CHECK (per_1000_weeks BETWEEN 1 AND 7000000),
    CONSTRAINT ck_habit_in_order CHECK (to_on IS NULL OR from_on <= to_on),
    CONSTRAINT ck_habit_from_on_date CHECK (from_on LIKE '____-__-__'),
    CONSTRAINT ck_habit_to_on_date CHECK (to_on LIKE '____-__-__'),
    CONSTRAINT fk_habit_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_habit_watch_id ON habit (watch_id);

INSERT INTO habit (activity, water, depth_mm, basis, gauge_pa, duration_s, water_mk, water_assumed, from_mk,
    salinity_ppm, density_g_m3, dips, rinsed, crown_wet, crown_under, pusher_wet, pusher_under, crown_open,
    pushers_open, jump_mm, note, id, watch_id, per_1000_weeks, from_on, to_on)
SELECT activity, water, depth_mm, basis, gauge_pa, duration_s, water_mk, water_assumed, from_mk, salinity_ppm,
    NULL, dips, rinsed, crown_wet, crown_under, pusher_wet, pusher_under, 0, 0, jump_mm, note, id, watch_id,
    per_1000_weeks, from_on, to_on
FROM habit_before;
DROP TABLE habit_before;

CREATE TABLE meta_before AS SELECT * FROM meta;
DROP TABLE meta;

CREATE TABLE meta (
    id INTEGER NOT NULL,
    schema_name TEXT NOT NULL,
    practice_fingerprint TEXT NOT NULL,
    next_entry_id INTEGER NOT NULL,
    next_watch_id INTEGER NOT NULL,
    next_seal_id INTEGER NOT NULL,
    next_action_id INTEGER NOT NULL,
    clock_right_to TEXT,
    rules_told INTEGER NOT NULL,
    writes INTEGER NOT NULL,
    CONSTRAINT pk_meta PRIMARY KEY (id),
    CONSTRAINT ck_meta_single CHECK (id = 1),
    CONSTRAINT ck_meta_schema_name_known CHECK (schema_name = 'logbook'),
    CONSTRAINT ck_meta_next_entry_id_range CHECK (next_entry_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_next_watch_id_range CHECK (next_watch_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_next_seal_id_range CHECK (next_seal_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_next_action_id_range CHECK (next_action_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_clock_right_to_date CHECK (clock_right_to LIKE '____-__-__'),
    CONSTRAINT ck_meta_rules_told_flag CHECK (rules_told IN (0, 1))
) STRICT;

INSERT INTO meta (id, schema_name, practice_fingerprint, next_entry_id, next_watch_id, next_seal_id,
    next_action_id, clock_right_to, rules_told, writes)
SELECT id, schema_name, practice_fingerprint, next_entry_id, next_watch_id, next_seal_id, next_action_id,
    NULL, 0, writes
FROM meta_before;
DROP TABLE meta_before;

DROP TABLE word_before;

CREATE TABLE raised (
    exposure_id INTEGER NOT NULL,
    code TEXT NOT NULL,
    CONSTRAINT pk_raised PRIMARY KEY (exposure_id, code),
    CONSTRAINT ck_raised_code_word CHECK (code IN ('overstressed', 'beyond-proof')),
    CONSTRAINT fk_raised_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE
) WITHOUT ROWID, STRICT;

-- elsewhere: ALTER TABLE watch_interval ADD CONSTRAINT fk_watch_interval_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE;
-- elsewhere: ALTER TABLE worn_stretch ADD CONSTRAINT fk_worn_stretch_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE;
-- elsewhere: ALTER TABLE seal ADD CONSTRAINT fk_seal_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE;
-- elsewhere: ALTER TABLE seal ADD CONSTRAINT fk_seal_event_id_event FOREIGN KEY(event_id) REFERENCES event (id) DEFERRABLE INITIALLY IMMEDIATE;
-- elsewhere: ALTER TABLE profile_point ADD CONSTRAINT fk_profile_point_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE;
-- elsewhere: ALTER TABLE imported ADD CONSTRAINT fk_imported_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE;
-- elsewhere: ALTER TABLE ledger_share ADD CONSTRAINT fk_ledger_share_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE;

-- The first revision of the record, as SQLite takes it. On PostgreSQL INTEGER is BIGINT, and STRICT and
-- WITHOUT ROWID fall away.

CREATE TABLE action (
    id INTEGER NOT NULL,
    done_at TEXT NOT NULL,
    label TEXT NOT NULL,
    undone INTEGER NOT NULL,
    CONSTRAINT pk_action PRIMARY KEY (id),
    CONSTRAINT ck_action_undone_flag CHECK (undone IN (0, 1)),
    CONSTRAINT ck_action_label_given CHECK (length(label) >= 1)
) STRICT;

CREATE TABLE meta (
    id INTEGER NOT NULL,
    schema_name TEXT NOT NULL,
    practice_fingerprint TEXT NOT NULL,
    next_entry_id INTEGER NOT NULL,
    next_watch_id INTEGER NOT NULL,
    next_seal_id INTEGER NOT NULL,
    next_action_id INTEGER NOT NULL,
    writes INTEGER NOT NULL,
    CONSTRAINT pk_meta PRIMARY KEY (id),
    CONSTRAINT ck_meta_single CHECK (id = 1),
    CONSTRAINT ck_meta_schema_name_known CHECK (schema_name = 'logbook'),
    CONSTRAINT ck_meta_next_entry_id_range CHECK (next_entry_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_next_watch_id_range CHECK (next_watch_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_next_seal_id_range CHECK (next_seal_id BETWEEN 1 AND 9007199254740992),
    CONSTRAINT ck_meta_next_action_id_range CHECK (next_action_id BETWEEN 1 AND 9007199254740992)
) STRICT;

CREATE TABLE setting (
    id INTEGER NOT NULL,
    salinity_ppm INTEGER NOT NULL,
    latitude_udeg INTEGER NOT NULL,
    altitude_mm INTEGER NOT NULL,
    zone TEXT NOT NULL,
    units TEXT NOT NULL,
    CONSTRAINT pk_setting PRIMARY KEY (id),
    CONSTRAINT ck_setting_single CHECK (id = 1),
    CONSTRAINT ck_setting_salinity_ppm_range CHECK (salinity_ppm BETWEEN 0 AND 42000),
    CONSTRAINT ck_setting_latitude_udeg_range CHECK (latitude_udeg BETWEEN -90000000 AND 90000000),
    CONSTRAINT ck_setting_altitude_mm_range CHECK (altitude_mm BETWEEN -500000 AND 9000000),
    CONSTRAINT ck_setting_units_word CHECK (units IN ('metric', 'imperial'))
) STRICT;

CREATE TABLE snooze (
    item_id TEXT NOT NULL,
    until_on TEXT NOT NULL,
    CONSTRAINT pk_snooze PRIMARY KEY (item_id),
    CONSTRAINT ck_snooze_item_given CHECK (length(item_id) >= 1),
    CONSTRAINT ck_snooze_until_on_date CHECK (until_on LIKE '____-__-__')
) STRICT;

CREATE TABLE watch (
    id INTEGER NOT NULL,
    name TEXT NOT NULL,
    name_key TEXT NOT NULL,
    mark TEXT NOT NULL,
    marked_pa INTEGER,
    added_on TEXT NOT NULL,
    recorded_from TEXT NOT NULL,
    crown TEXT NOT NULL,
    pushers INTEGER NOT NULL,
    gas_valve INTEGER NOT NULL,
    case_material TEXT NOT NULL,
    movement TEXT NOT NULL,
    stated_use TEXT NOT NULL,
    bought_on TEXT,
    new_on TEXT,
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

CREATE TABLE change (
    action_id INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    table_name TEXT NOT NULL,
    row_key TEXT NOT NULL,
    other_rows TEXT,
    CONSTRAINT pk_change PRIMARY KEY (action_id, seq),
    CONSTRAINT ck_change_rows_json CHECK (other_rows IS NULL OR length(other_rows) >= 2),
    CONSTRAINT fk_change_action_id_action FOREIGN KEY(action_id) REFERENCES action (id) ON DELETE CASCADE DEFERRABLE INITIALLY IMMEDIATE
) STRICT;

CREATE TABLE event (
    id INTEGER NOT NULL,
    watch_id INTEGER NOT NULL,
    kind TEXT NOT NULL,
    happened_on TEXT NOT NULL,
    day_order INTEGER NOT NULL,
    passed INTEGER,
    test_pa INTEGER,
    medium TEXT,
    test_s INTEGER,
    deflection_nm INTEGER,
    repaired TEXT,
    crystal_mk INTEGER,
    case_air_mk INTEGER,
    workshop TEXT NOT NULL,
    note TEXT NOT NULL,
    CONSTRAINT pk_event PRIMARY KEY (id),
    CONSTRAINT ck_event_kind_word CHECK (kind IN ('gaskets', 'opened', 'battery', 'movement', 'strap', 'pressure-test', 'condensation-test', 'repaired', 'fog', 'water', 'crown', 'crystal', 'pushers', 'valve')),
    CONSTRAINT ck_event_medium_word CHECK (medium IN ('air', 'vacuum', 'water')),
    CONSTRAINT ck_event_repaired_word CHECK (repaired IN ('gaskets', 'opened', 'battery', 'movement', 'strap', 'pressure-test', 'condensation-test', 'repaired', 'fog', 'water', 'crown', 'crystal', 'pushers', 'valve')),
    CONSTRAINT ck_event_passed_flag CHECK (passed IN (0, 1)),
    CONSTRAINT ck_event_test_pa_range CHECK (test_pa BETWEEN 0 AND 400000000),
    CONSTRAINT ck_event_test_s_range CHECK (test_s BETWEEN 0 AND 10000000),
    CONSTRAINT ck_event_deflection_nm_range CHECK (deflection_nm BETWEEN -10000000 AND 10000000),
    CONSTRAINT ck_event_crystal_mk_range CHECK (crystal_mk BETWEEN 213150 AND 373150),
    CONSTRAINT ck_event_case_air_mk_range CHECK (case_air_mk BETWEEN 213150 AND 373150),
    CONSTRAINT ck_event_day_order_range CHECK (day_order BETWEEN 0 AND 10000),
    CONSTRAINT ck_event_passed_of_test CHECK ((kind IN ('pressure-test', 'condensation-test')) = (passed IS NOT NULL)),
    CONSTRAINT ck_event_repaired_of_repair CHECK ((kind = 'repaired') = (repaired IS NOT NULL)),
    CONSTRAINT ck_event_happened_on_date CHECK (happened_on LIKE '____-__-__'),
    CONSTRAINT fk_event_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_event_happened_on ON event (happened_on);
CREATE INDEX ix_event_watch_id_happened_on ON event (watch_id, happened_on);

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
    dips INTEGER NOT NULL,
    rinsed INTEGER NOT NULL,
    crown_wet INTEGER NOT NULL,
    crown_under INTEGER NOT NULL,
    pusher_wet INTEGER NOT NULL,
    pusher_under INTEGER NOT NULL,
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
    CONSTRAINT ck_exposure_salinity_ppm_range CHECK (salinity_ppm BETWEEN 0 AND 42000),
    CONSTRAINT ck_exposure_dips_range CHECK (dips BETWEEN 1 AND 10000),
    CONSTRAINT ck_exposure_jump_mm_range CHECK (jump_mm BETWEEN 0 AND 100000),
    CONSTRAINT ck_exposure_water_mk_range CHECK (water_mk BETWEEN 270150 AND 333150 OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)),
    CONSTRAINT ck_exposure_crown_wet_range CHECK (crown_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_crown_under_range CHECK (crown_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_pusher_wet_range CHECK (pusher_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_pusher_under_range CHECK (pusher_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_exposure_rinsed_flag CHECK (rinsed IN (0, 1)),
    CONSTRAINT ck_exposure_water_assumed_flag CHECK (water_assumed IN (0, 1)),
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
    dips INTEGER NOT NULL,
    rinsed INTEGER NOT NULL,
    crown_wet INTEGER NOT NULL,
    crown_under INTEGER NOT NULL,
    pusher_wet INTEGER NOT NULL,
    pusher_under INTEGER NOT NULL,
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
    CONSTRAINT ck_habit_salinity_ppm_range CHECK (salinity_ppm BETWEEN 0 AND 42000),
    CONSTRAINT ck_habit_dips_range CHECK (dips BETWEEN 1 AND 10000),
    CONSTRAINT ck_habit_jump_mm_range CHECK (jump_mm BETWEEN 0 AND 100000),
    CONSTRAINT ck_habit_water_mk_range CHECK (water_mk BETWEEN 270150 AND 333150 OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)),
    CONSTRAINT ck_habit_crown_wet_range CHECK (crown_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_crown_under_range CHECK (crown_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_pusher_wet_range CHECK (pusher_wet BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_pusher_under_range CHECK (pusher_under BETWEEN 0 AND 10000),
    CONSTRAINT ck_habit_rinsed_flag CHECK (rinsed IN (0, 1)),
    CONSTRAINT ck_habit_water_assumed_flag CHECK (water_assumed IN (0, 1)),
    CONSTRAINT ck_habit_per_1000_weeks_range CHECK (per_1000_weeks BETWEEN 1 AND 7000000),
    CONSTRAINT ck_habit_in_order CHECK (to_on IS NULL OR from_on <= to_on),
    CONSTRAINT ck_habit_from_on_date CHECK (from_on LIKE '____-__-__'),
    CONSTRAINT ck_habit_to_on_date CHECK (to_on LIKE '____-__-__'),
    CONSTRAINT fk_habit_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_habit_watch_id ON habit (watch_id);

CREATE TABLE home_month (
    month INTEGER NOT NULL,
    setting_id INTEGER NOT NULL,
    water_mk INTEGER NOT NULL,
    CONSTRAINT pk_home_month PRIMARY KEY (month),
    CONSTRAINT ck_home_month_month_range CHECK (month BETWEEN 1 AND 12),
    CONSTRAINT ck_home_month_water_mk_range CHECK (water_mk BETWEEN 270150 AND 333150),
    CONSTRAINT fk_home_month_setting_id_setting FOREIGN KEY(setting_id) REFERENCES setting (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;

CREATE TABLE watch_interval (
    watch_id INTEGER NOT NULL,
    task TEXT NOT NULL,
    months INTEGER NOT NULL,
    CONSTRAINT pk_watch_interval PRIMARY KEY (watch_id, task),
    CONSTRAINT ck_watch_interval_months_range CHECK (months BETWEEN 1 AND 1200),
    CONSTRAINT fk_watch_interval_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;

CREATE TABLE worn_stretch (
    id INTEGER NOT NULL,
    watch_id INTEGER NOT NULL,
    from_on TEXT NOT NULL,
    to_on TEXT NOT NULL,
    worn_min INTEGER NOT NULL,
    CONSTRAINT pk_worn_stretch PRIMARY KEY (id),
    CONSTRAINT ck_worn_stretch_in_order CHECK (from_on <= to_on),
    CONSTRAINT ck_worn_stretch_worn_min_range CHECK (worn_min BETWEEN 0 AND 1440),
    CONSTRAINT ck_worn_stretch_from_on_date CHECK (from_on LIKE '____-__-__'),
    CONSTRAINT ck_worn_stretch_to_on_date CHECK (to_on LIKE '____-__-__'),
    CONSTRAINT fk_worn_stretch_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_worn_stretch_watch_id ON worn_stretch (watch_id);

CREATE TABLE profile_point (
    exposure_id INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    time_ms INTEGER NOT NULL,
    depth_mm INTEGER NOT NULL,
    water_mk INTEGER,
    CONSTRAINT pk_profile_point PRIMARY KEY (exposure_id, seq),
    CONSTRAINT ck_profile_point_time_ms_range CHECK (time_ms BETWEEN 0 AND 172800000),
    CONSTRAINT ck_profile_point_depth_mm_range CHECK (depth_mm BETWEEN 0 AND 400000),
    CONSTRAINT ck_profile_point_water_mk_range CHECK (water_mk BETWEEN 233150 AND 393150),
    CONSTRAINT fk_profile_point_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE
) WITHOUT ROWID, STRICT;

CREATE TABLE seal (
    id INTEGER NOT NULL,
    watch_id INTEGER NOT NULL,
    event_id INTEGER,
    position TEXT NOT NULL,
    material TEXT NOT NULL,
    fitted_earliest TEXT NOT NULL,
    fitted_latest TEXT NOT NULL,
    day_order INTEGER NOT NULL,
    CONSTRAINT pk_seal PRIMARY KEY (id),
    CONSTRAINT uq_seal_event_id_position UNIQUE (event_id, position),
    CONSTRAINT ck_seal_position_word CHECK (position IN ('case-back', 'crystal', 'crown', 'pushers', 'gas-valve')),
    CONSTRAINT ck_seal_material_given CHECK (length(material) BETWEEN 1 AND 40),
    CONSTRAINT ck_seal_fitted_in_order CHECK (fitted_earliest <= fitted_latest),
    CONSTRAINT ck_seal_day_order_range CHECK (day_order BETWEEN 0 AND 10000),
    CONSTRAINT ck_seal_fitted_earliest_date CHECK (fitted_earliest LIKE '____-__-__'),
    CONSTRAINT ck_seal_fitted_latest_date CHECK (fitted_latest LIKE '____-__-__'),
    CONSTRAINT fk_seal_watch_id_watch FOREIGN KEY(watch_id) REFERENCES watch (id) DEFERRABLE INITIALLY IMMEDIATE,
    CONSTRAINT fk_seal_event_id_event FOREIGN KEY(event_id) REFERENCES event (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;
CREATE INDEX ix_seal_watch_id ON seal (watch_id);

CREATE TABLE ledger_share (
    ageing INTEGER NOT NULL,
    pressure INTEGER NOT NULL,
    temperature INTEGER NOT NULL,
    salt INTEGER NOT NULL,
    chemicals INTEGER NOT NULL,
    handling INTEGER NOT NULL,
    exposure_id INTEGER NOT NULL,
    seal_id INTEGER NOT NULL,
    counted INTEGER NOT NULL,
    CONSTRAINT pk_ledger_share PRIMARY KEY (exposure_id, seal_id),
    CONSTRAINT ck_ledger_share_ageing_range CHECK (ageing BETWEEN -1000000000000000000 AND 1000000000000000000),
    CONSTRAINT ck_ledger_share_pressure_range CHECK (pressure BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_ledger_share_temperature_range CHECK (temperature BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_ledger_share_salt_range CHECK (salt BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_ledger_share_chemicals_range CHECK (chemicals BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_ledger_share_handling_range CHECK (handling BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_ledger_share_counted_flag CHECK (counted IN (0, 1)),
    CONSTRAINT fk_ledger_share_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE,
    CONSTRAINT fk_ledger_share_seal_id_seal FOREIGN KEY(seal_id) REFERENCES seal (id) ON DELETE CASCADE DEFERRABLE INITIALLY IMMEDIATE
) WITHOUT ROWID, STRICT;
CREATE INDEX ix_ledger_share_doubtful ON ledger_share (seal_id) WHERE counted = 0;

CREATE TABLE seal_total (
    ageing INTEGER NOT NULL,
    pressure INTEGER NOT NULL,
    temperature INTEGER NOT NULL,
    salt INTEGER NOT NULL,
    chemicals INTEGER NOT NULL,
    handling INTEGER NOT NULL,
    seal_id INTEGER NOT NULL,
    CONSTRAINT pk_seal_total PRIMARY KEY (seal_id),
    CONSTRAINT ck_seal_total_ageing_range CHECK (ageing BETWEEN -1000000000000000000 AND 1000000000000000000),
    CONSTRAINT ck_seal_total_pressure_range CHECK (pressure BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_seal_total_temperature_range CHECK (temperature BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_seal_total_salt_range CHECK (salt BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_seal_total_chemicals_range CHECK (chemicals BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT ck_seal_total_handling_range CHECK (handling BETWEEN 0 AND 1000000000000000000),
    CONSTRAINT fk_seal_total_seal_id_seal FOREIGN KEY(seal_id) REFERENCES seal (id) ON DELETE CASCADE DEFERRABLE INITIALLY IMMEDIATE
) STRICT;

INSERT INTO meta (id, schema_name, practice_fingerprint, next_entry_id, next_watch_id, next_seal_id, next_action_id, writes) VALUES (1, 'logbook', '', 1, 1, 1, 1, 0);

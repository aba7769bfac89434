-- What came from a file, and what the owner was told, as SQLite takes it. On PostgreSQL INTEGER is BIGINT, and
-- STRICT falls away.

CREATE TABLE calendar_entry (
    item_id TEXT NOT NULL,
    uid TEXT NOT NULL,
    sequence INTEGER NOT NULL,
    summary TEXT NOT NULL,
    description TEXT NOT NULL,
    due_on TEXT NOT NULL,
    alarm_from TEXT NOT NULL,
    cancelled INTEGER NOT NULL,
    changed_at TEXT NOT NULL,
    CONSTRAINT pk_calendar_entry PRIMARY KEY (item_id),
    CONSTRAINT ck_calendar_entry_uid_given CHECK (length(uid) >= 1),
    CONSTRAINT ck_calendar_entry_sequence_range CHECK (sequence BETWEEN 0 AND 2147483647),
    CONSTRAINT ck_calendar_entry_cancelled_flag CHECK (cancelled IN (0, 1)),
    CONSTRAINT ck_calendar_entry_due_on_date CHECK (due_on LIKE '____-__-__')
) STRICT;

CREATE TABLE named_date (
    item_id TEXT NOT NULL,
    due_on TEXT NOT NULL,
    named_on TEXT NOT NULL,
    CONSTRAINT pk_named_date PRIMARY KEY (item_id),
    CONSTRAINT ck_named_date_due_on_date CHECK (due_on LIKE '____-__-__'),
    CONSTRAINT ck_named_date_named_on_date CHECK (named_on LIKE '____-__-__')
) STRICT;

CREATE TABLE told (
    item_id TEXT NOT NULL,
    stage TEXT NOT NULL,
    after_snooze TEXT NOT NULL,
    due_on TEXT NOT NULL,
    claimed_at TEXT NOT NULL,
    sent_at TEXT,
    CONSTRAINT pk_told PRIMARY KEY (item_id, stage, after_snooze),
    CONSTRAINT ck_told_stage_word CHECK (stage IN ('coming up', 'due', 'overdue')),
    CONSTRAINT ck_told_after_snooze_date CHECK (after_snooze = '' OR after_snooze LIKE '____-__-__'),
    CONSTRAINT ck_told_due_on_date CHECK (due_on LIKE '____-__-__')
) STRICT;

CREATE TABLE imported (
    exposure_id INTEGER NOT NULL,
    origin TEXT NOT NULL,
    CONSTRAINT pk_imported PRIMARY KEY (exposure_id),
    CONSTRAINT ck_imported_origin_given CHECK (length(origin) BETWEEN 1 AND 1000),
    CONSTRAINT fk_imported_exposure_id_exposure FOREIGN KEY(exposure_id) REFERENCES exposure (id) DEFERRABLE INITIALLY IMMEDIATE
) STRICT;

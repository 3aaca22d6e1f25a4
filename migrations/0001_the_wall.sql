-- +goose Up

-- "PWal": tells our data file from any other SQLite file.
PRAGMA application_id = 1347903852;

-- All times are RFC 3339 in UTC with nine decimals, so that they sort as text:
-- 2026-11-25T10:11:12.000000000Z

CREATE TABLE titles (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    name       TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    folded     TEXT NOT NULL UNIQUE, -- the name without differences of case and space
    created    TEXT NOT NULL CHECK (created GLOB '????-??-??T??:??:??.?????????Z'),
    weights    TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(weights)),
    last_photo INTEGER NOT NULL DEFAULT 0 CHECK (last_photo >= 0) -- the highest photo number ever given
) STRICT;

CREATE TABLE photos (
    title_id        INTEGER NOT NULL REFERENCES titles (id),
    number          INTEGER NOT NULL CHECK (number > 0),
    name            TEXT NOT NULL,
    path            TEXT NOT NULL CHECK (path <> ''),
    hash            TEXT NOT NULL CHECK (length(hash) = 64 AND hash NOT GLOB '*[^0-9a-f]*'),
    bytes           INTEGER NOT NULL CHECK (bytes >= 0),
    stamp           TEXT NOT NULL CHECK (stamp GLOB '????-??-??T??:??:??.?????????Z'),
    came            TEXT NOT NULL CHECK (came GLOB '????-??-??T??:??:??.?????????Z'),

    format          TEXT NOT NULL,
    width           INTEGER NOT NULL CHECK (width > 0),
    height          INTEGER NOT NULL CHECK (height > 0),
    profile         TEXT NOT NULL,

    camera          TEXT NOT NULL,
    scan            INTEGER NOT NULL CHECK (scan IN (0, 1)),
    roll            TEXT NOT NULL,
    frame           TEXT NOT NULL,

    -- from and to are wall-clock readings where the picture was taken, written
    -- as if they were UTC; offset is minutes east of UTC there.
    taken_precision TEXT NOT NULL CHECK (taken_precision IN ('unknown', 'instant', 'day', 'span')),
    taken_from      TEXT CHECK (taken_from GLOB '????-??-??T??:??:??.?????????Z'),
    taken_to        TEXT CHECK (taken_to GLOB '????-??-??T??:??:??.?????????Z'),
    taken_offset    INTEGER CHECK (taken_offset BETWEEN -1440 AND 1440),
    taken_source    TEXT NOT NULL,

    where_lat       REAL CHECK (where_lat BETWEEN -90 AND 90),
    where_lng       REAL CHECK (where_lng BETWEEN -180 AND 180),
    where_radius    REAL CHECK (where_radius >= 0), -- metres
    where_source    TEXT,

    caption         TEXT NOT NULL,
    palette         TEXT NOT NULL CHECK (json_valid(palette)),
    tone            TEXT NOT NULL CHECK (json_valid(tone)),
    findings        TEXT NOT NULL CHECK (json_valid(findings)),

    PRIMARY KEY (title_id, number),
    UNIQUE (title_id, hash),
    CHECK (taken_precision = 'unknown' OR (taken_from IS NOT NULL AND taken_to IS NOT NULL AND taken_from <= taken_to)),
    CHECK ((where_lat IS NULL) = (where_lng IS NULL)
       AND (where_lat IS NULL) = (where_radius IS NULL)
       AND (where_lat IS NULL) = (where_source IS NULL))
) STRICT;

CREATE INDEX photos_path ON photos (title_id, path);

CREATE TABLE refusals (
    title_id INTEGER NOT NULL REFERENCES titles (id),
    path     TEXT NOT NULL CHECK (path <> ''),
    code     TEXT NOT NULL CHECK (code <> ''),
    words    TEXT NOT NULL,
    hint     TEXT NOT NULL,
    at       TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    PRIMARY KEY (title_id, path)
) STRICT;

CREATE TABLE walls (
    title_id INTEGER PRIMARY KEY REFERENCES titles (id),
    revision INTEGER NOT NULL CHECK (revision >= 0),
    reached  TEXT NOT NULL CHECK (reached GLOB '????-??-??T??:??:??.?????????Z'), -- last change, or the title's creation
    state    TEXT NOT NULL CHECK (json_valid(state)),
    CHECK (state ->> '$.revision' IS revision)
) STRICT;

CREATE TABLE journal (
    title_id  INTEGER NOT NULL REFERENCES titles (id),
    revision  INTEGER NOT NULL, -- of the wall after the change
    way       TEXT NOT NULL CHECK (way IN ('act', 'undo', 'redo')),
    of        INTEGER NOT NULL CHECK (of >= 0 AND of < revision AND (of = 0) = (way = 'act')),
    undo_next INTEGER NOT NULL CHECK (undo_next BETWEEN 0 AND revision),
    redo_next INTEGER NOT NULL CHECK (redo_next BETWEEN 0 AND revision),
    at        TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    origin    TEXT NOT NULL, -- which window made it
    change    TEXT NOT NULL CHECK (json_valid(change)),
    PRIMARY KEY (title_id, revision),
    CHECK (change ->> '$.revision' IS revision - 1)
) STRICT;

-- The journal is the wall's whole past and is only ever written at its end.
-- The first trigger also stops INSERT OR REPLACE, which deletes without asking
-- the third.

-- +goose StatementBegin
CREATE TRIGGER journal_goes_on BEFORE INSERT ON journal
WHEN NEW.revision IS NOT (SELECT coalesce(max(revision), 0) + 1 FROM journal WHERE title_id = NEW.title_id)
BEGIN
    SELECT RAISE(ABORT, 'the journal goes on at its end only');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
BEGIN
    SELECT RAISE(ABORT, 'the journal is never rewritten');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER journal_is_kept BEFORE DELETE ON journal
BEGIN
    SELECT RAISE(ABORT, 'the journal is never cut');
END;
-- +goose StatementEnd

CREATE TABLE versions (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id INTEGER NOT NULL REFERENCES titles (id),
    revision INTEGER NOT NULL CHECK (revision >= 0),
    at       TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'), -- when the state was reached
    named    INTEGER NOT NULL CHECK (named IN (0, 1)),
    name     TEXT NOT NULL,
    state    TEXT NOT NULL CHECK (json_valid(state)),
    UNIQUE (title_id, revision),
    CHECK ((name <> '') = named),
    CHECK (state ->> '$.revision' IS revision)
) STRICT;

-- A version may get a name; the state it keeps stays as it is.

-- +goose StatementBegin
CREATE TRIGGER versions_stay BEFORE UPDATE OF id, title_id, revision, at, state ON versions
BEGIN
    SELECT RAISE(ABORT, 'a version is never rewritten');
END;
-- +goose StatementEnd

CREATE TABLE brings (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id INTEGER NOT NULL REFERENCES titles (id),
    sources  TEXT NOT NULL CHECK (json_valid(sources)),
    state    TEXT NOT NULL CHECK (state IN ('running', 'done', 'cancelled', 'failed', 'broken off')),
    found    INTEGER NOT NULL DEFAULT 0 CHECK (found >= 0),
    read     INTEGER NOT NULL DEFAULT 0 CHECK (read >= 0),
    known    INTEGER NOT NULL DEFAULT 0 CHECK (known >= 0),
    refused  INTEGER NOT NULL DEFAULT 0 CHECK (refused >= 0),
    started  TEXT NOT NULL CHECK (started GLOB '????-??-??T??:??:??.?????????Z'),
    ended    TEXT CHECK (ended GLOB '????-??-??T??:??:??.?????????Z'),
    words    TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX brings_title ON brings (title_id, id);

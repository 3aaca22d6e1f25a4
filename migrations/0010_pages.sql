-- +goose Up

-- Format and page plan. Like the wall they have a journal that only goes on;
-- revision 0 is what a title began with. What an act changed lies in page_parts:
-- 'format', 'plan' (all of it but the photos) or 'photo/12', each with what was
-- said of it from that revision on, and null when nothing is said any more. So
-- the state at any revision is the newest row of every part up to it, and
-- moving one crop costs one row however long the book is.
CREATE TABLE page_acts (
    title_id  INTEGER NOT NULL REFERENCES titles (id),
    revision  INTEGER NOT NULL CHECK (revision >= 0),
    way       TEXT NOT NULL CHECK (way IN ('act', 'undo', 'redo')),
    of        INTEGER NOT NULL CHECK (of >= 0 AND (of = 0) = (way = 'act')),
    undo_next INTEGER NOT NULL CHECK (undo_next BETWEEN 0 AND revision),
    redo_next INTEGER NOT NULL CHECK (redo_next BETWEEN 0 AND revision),
    at        TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    origin    TEXT NOT NULL, -- which window made it
    act       TEXT NOT NULL CHECK ((act = '') = (revision = 0)),
    PRIMARY KEY (title_id, revision)
) STRICT;

CREATE TABLE page_parts (
    title_id INTEGER NOT NULL REFERENCES titles (id),
    part     TEXT NOT NULL CHECK (part IN ('format', 'plan') OR part GLOB 'photo/[1-9]*'),
    revision INTEGER NOT NULL,
    said     TEXT NOT NULL CHECK (json_valid(said)),
    PRIMARY KEY (title_id, part, revision),
    FOREIGN KEY (title_id, revision) REFERENCES page_acts (title_id, revision)
) STRICT, WITHOUT ROWID;

-- +goose StatementBegin
CREATE TRIGGER page_acts_go_on BEFORE INSERT ON page_acts
WHEN NEW.revision IS NOT (SELECT coalesce(max(revision), -1) + 1 FROM page_acts WHERE title_id = NEW.title_id)
BEGIN
    SELECT RAISE(ABORT, 'the journal of pages goes on at its end only');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER page_acts_stay BEFORE UPDATE ON page_acts
BEGIN
    SELECT RAISE(ABORT, 'the journal of pages is never rewritten');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER page_acts_are_kept BEFORE DELETE ON page_acts
BEGIN
    SELECT RAISE(ABORT, 'the journal of pages is never cut');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER page_parts_stay BEFORE UPDATE ON page_parts
BEGIN
    SELECT RAISE(ABORT, 'the journal of pages is never rewritten');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER page_parts_are_kept BEFORE DELETE ON page_parts
BEGIN
    SELECT RAISE(ABORT, 'the journal of pages is never cut');
END;
-- +goose StatementEnd

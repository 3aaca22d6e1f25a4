-- +goose Up

-- What the maker says of a version, and when they last looked at it. A version
-- that says nothing of itself may be thinned out, when the maker asks for it.
ALTER TABLE versions ADD COLUMN why TEXT NOT NULL DEFAULT '';
ALTER TABLE versions ADD COLUMN slip INTEGER NOT NULL DEFAULT 0 CHECK (slip IN (0, 1));
ALTER TABLE versions ADD COLUMN looked TEXT CHECK (looked GLOB '????-??-??T??:??:??.?????????Z');

-- Lines of work: walls gone on with beside each other. Which of them a state
-- belongs to is written in the state itself ($.line; none for 0), so that the
-- journal leads from one to another and back like any change. The first line
-- has a row here only once it has got a name or another was begun beside it.
CREATE TABLE lines (
    title_id INTEGER NOT NULL REFERENCES titles (id),
    number   INTEGER NOT NULL CHECK (number >= 0),
    name     TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    folded   TEXT NOT NULL, -- the name without differences of case and space
    began    TEXT NOT NULL CHECK (began GLOB '????-??-??T??:??:??.?????????Z'),
    origin   INTEGER NOT NULL CHECK (origin >= 0 AND (origin < number OR number = 0)), -- the line it was begun from
    root     INTEGER NOT NULL CHECK (root >= 0), -- the revision of the state it was begun with
    PRIMARY KEY (title_id, number),
    UNIQUE (title_id, folded)
) STRICT;

-- +goose StatementBegin
CREATE TRIGGER lines_are_kept BEFORE DELETE ON lines
BEGIN
    SELECT RAISE(ABORT, 'a line of work is never taken away');
END;
-- +goose StatementEnd

-- The maker may thin out versions that say nothing of themselves. All others
-- stay, whoever asks.

-- +goose StatementBegin
CREATE TRIGGER versions_spoken_of_are_kept BEFORE DELETE ON versions
WHEN OLD.named = 1 OR OLD.slip = 1 OR OLD.why <> ''
BEGIN
    SELECT RAISE(ABORT, 'a version that the maker spoke of is never taken away');
END;
-- +goose StatementEnd

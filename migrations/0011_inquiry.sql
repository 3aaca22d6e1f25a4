-- +goose Up

-- What printers are asked and what they answer. An entry is the specification,
-- one printer, one quote, the terms of comparison or the price; its body is the
-- value of package quotes. Printers and quotes count from 1 within the title and
-- no number is given twice; of the others there is one, number 0.
CREATE TABLE inquiry (
    title_id INTEGER NOT NULL REFERENCES titles (id),
    kind     TEXT NOT NULL CHECK (kind IN ('specification', 'printer', 'quote', 'terms', 'price')),
    number   INTEGER NOT NULL CHECK (number >= 0),
    act      INTEGER NOT NULL CHECK (act > 0), -- that made it what it is
    body     TEXT NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (title_id, kind, number)
) STRICT;

-- Every act on them, nothing is ever removed. An undo is an act like any other;
-- the last act names what undo and redo would turn next, each act what was next
-- below it.
CREATE TABLE inquiry_acts (
    title_id   INTEGER NOT NULL REFERENCES titles (id),
    number     INTEGER NOT NULL CHECK (number > 0),
    at         TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    kind       TEXT NOT NULL,
    entry      INTEGER NOT NULL,
    before     TEXT CHECK (before IS NULL OR json_valid(before)), -- null: it was not there
    after      TEXT CHECK (after IS NULL OR json_valid(after)),   -- null: it was taken out
    undo_next  INTEGER NOT NULL,
    undo_below INTEGER NOT NULL,
    redo_next  INTEGER NOT NULL,
    redo_below INTEGER NOT NULL,
    PRIMARY KEY (title_id, number)
) STRICT;

-- +goose Up

-- Rounds of proofs: what the printer was sent, what came and what was decided.
-- They count from 1 within the title and no number is given twice; one that was
-- taken out can be put back.
CREATE TABLE proof_rounds (
    title_id  INTEGER NOT NULL REFERENCES titles (id),
    number    INTEGER NOT NULL CHECK (number > 0),
    revision  INTEGER NOT NULL CHECK (revision > 0), -- how often it was written
    taken_out INTEGER NOT NULL DEFAULT 0 CHECK (taken_out IN (0, 1)),
    body      TEXT NOT NULL CHECK (json_valid(body)), -- a Round of package proof
    PRIMARY KEY (title_id, number)
) STRICT;

-- What photographs of the pages of a proof told, with the photographs. Numbers
-- count within the title.
CREATE TABLE proof_findings (
    title_id  INTEGER NOT NULL REFERENCES titles (id),
    round     INTEGER NOT NULL,
    number    INTEGER NOT NULL CHECK (number > 0),
    page      INTEGER NOT NULL CHECK (page >= 0), -- of the book; 0: the test strip
    at        TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    name      TEXT NOT NULL, -- of the photograph's file
    taken_out INTEGER NOT NULL DEFAULT 0 CHECK (taken_out IN (0, 1)),
    body      TEXT NOT NULL CHECK (json_valid(body)), -- a Measurement of package proof
    picture   BLOB NOT NULL, -- the photograph, small enough for a screen, JPEG
    PRIMARY KEY (title_id, number),
    FOREIGN KEY (title_id, round) REFERENCES proof_rounds (title_id, number)
) STRICT;

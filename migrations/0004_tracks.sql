-- +goose Up

-- Tracks that somebody carried along, one row for each file. The file itself is
-- not kept; its points are, packed (package store, ways.go), because a journey
-- has half a million of them and nobody asks for one.
CREATE TABLE tracks (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id INTEGER NOT NULL REFERENCES titles (id),
    name     TEXT NOT NULL,
    origin   TEXT NOT NULL, -- the file's own name
    points   INTEGER NOT NULL CHECK (points >= 0),
    began    TEXT CHECK (began GLOB '????-??-??T??:??:??.?????????Z'), -- first and last time of a point; null when none knows its time
    ended    TEXT CHECK (ended GLOB '????-??-??T??:??:??.?????????Z'),
    findings TEXT NOT NULL CHECK (json_valid(findings)),
    hash     TEXT NOT NULL CHECK (length(hash) = 64 AND hash NOT GLOB '*[^0-9a-f]*'), -- of the points before packing
    ways     BLOB NOT NULL,
    UNIQUE (title_id, hash),
    CHECK ((began IS NULL) = (ended IS NULL) AND (began IS NULL OR began <= ended))
) STRICT;

-- +goose Up

-- What the maker decided of a title's cover, and what is known of the designer's
-- PDF. That file stays with the maker; facts are kept rather than findings, so that
-- they are judged anew when spine or format change. view is a picture of the cover
-- laid flat, developed as photographs are: JPEG, sRGB, without what was written in
-- the file.
CREATE TABLE covers (
    title_id INTEGER PRIMARY KEY REFERENCES titles (id),
    revision INTEGER NOT NULL CHECK (revision > 0),
    changed  TEXT NOT NULL CHECK (changed GLOB '????-??-??T??:??:??.?????????Z'),
    said     TEXT NOT NULL CHECK (json_valid(said)),
    brought  TEXT CHECK (json_valid(brought)), -- NULL: no PDF
    view     BLOB -- NULL: none
) STRICT;

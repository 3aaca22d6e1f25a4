-- +goose Up

-- The colour profile of the printer's inks, one for each title: what can be
-- printed is judged by it, and it goes into the printer's PDF as its output
-- intent. It is kept whole, so that a title can be made again without the file.
CREATE TABLE printer_profiles (
    title_id  INTEGER PRIMARY KEY REFERENCES titles (id),
    name      TEXT NOT NULL, -- what the profile calls itself
    origin    TEXT NOT NULL, -- the file's own name
    ink_limit INTEGER NOT NULL CHECK (ink_limit BETWEEN 100 AND 400), -- per cent, of all inks together
    bytes     BLOB NOT NULL
) STRICT;

-- +goose Up

-- What the maker states of a photo beside its date and place, and what was
-- measured of its form. Measures can be taken again.
ALTER TABLE photos ADD COLUMN feeling TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(feeling));
ALTER TABLE photos ADD COLUMN form TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(form));

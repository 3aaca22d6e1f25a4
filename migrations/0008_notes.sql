-- +goose Up

-- What the maker notes of a photo for their own use; it is never printed. Notes on
-- spreads are part of the wall's state.
ALTER TABLE photos ADD COLUMN note TEXT NOT NULL DEFAULT '';

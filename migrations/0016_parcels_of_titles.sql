-- +goose Up

-- A packed title moves the ids of what refers to titles: copies in parcels have to
-- say that they do. Nothing refers to this table, so it is simply made anew.
CREATE TABLE parcel_copies_anew (
    title_id  INTEGER NOT NULL REFERENCES titles (id),
    series    TEXT NOT NULL,
    number    INTEGER NOT NULL,
    parcel_id INTEGER NOT NULL REFERENCES parcels (id) ON DELETE CASCADE,
    PRIMARY KEY (title_id, series, number)
) STRICT;
INSERT INTO parcel_copies_anew SELECT title_id, series, number, parcel_id FROM parcel_copies;
DROP TABLE parcel_copies;
ALTER TABLE parcel_copies_anew RENAME TO parcel_copies;
CREATE INDEX parcel_copies_parcel ON parcel_copies (parcel_id);

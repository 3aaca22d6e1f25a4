-- +goose Up

-- Parcels that were packed. A tracking number leads to a person: it goes when the
-- person does.
CREATE TABLE parcels (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id         INTEGER NOT NULL REFERENCES titles (id),
    order_id         INTEGER NOT NULL REFERENCES orders (id),
    at               TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    mass             INTEGER NOT NULL CHECK (mass >= 0), -- milligrams; 0 when not weighed
    service          TEXT NOT NULL,
    postage          INTEGER NOT NULL, -- minor units
    postage_currency TEXT NOT NULL,
    tracking         TEXT NOT NULL
) STRICT;

CREATE INDEX parcels_order ON parcels (order_id);

-- No copy lies in two parcels.
CREATE TABLE parcel_copies (
    title_id  INTEGER NOT NULL,
    series    TEXT NOT NULL,
    number    INTEGER NOT NULL,
    parcel_id INTEGER NOT NULL REFERENCES parcels (id) ON DELETE CASCADE,
    PRIMARY KEY (title_id, series, number)
) STRICT;

CREATE INDEX parcel_copies_parcel ON parcel_copies (parcel_id);

-- What was done at the packing table, so that it can be taken back: the parcel as
-- it was and as it is, as JSON; null where there was none.
CREATE TABLE parcel_acts (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id INTEGER NOT NULL REFERENCES titles (id),
    order_id INTEGER NOT NULL REFERENCES orders (id),
    before   TEXT CHECK (before IS NULL OR json_valid(before)),
    after    TEXT CHECK (after IS NULL OR json_valid(after)),
    undone   INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;

CREATE INDEX parcel_acts_title ON parcel_acts (title_id, undone);

-- +goose StatementBegin
CREATE TRIGGER orders_erased AFTER UPDATE OF erased ON orders WHEN NEW.erased = 1
BEGIN
    UPDATE parcels SET tracking = '' WHERE order_id = NEW.id;
    DELETE FROM parcel_acts WHERE order_id = NEW.id;
END;
-- +goose StatementEnd

-- The money of a title: what was spent and taken in beyond orders, what channels
-- keep for themselves, and rates.
CREATE TABLE books (
    title_id INTEGER PRIMARY KEY REFERENCES titles (id),
    revision INTEGER NOT NULL CHECK (revision > 0),
    value    TEXT NOT NULL CHECK (json_valid(value))
) STRICT;

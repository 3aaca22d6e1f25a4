-- +goose Up

-- Orders. What is personal of one stands in a single column, so that erasing a
-- person leaves nothing behind; the country stays, because the tax adviser asks.
CREATE TABLE order_lists (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id INTEGER NOT NULL REFERENCES titles (id),
    name     TEXT NOT NULL, -- the file's own
    at       TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z')
) STRICT;

CREATE TABLE orders (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id         INTEGER NOT NULL REFERENCES titles (id),
    revision         INTEGER NOT NULL CHECK (revision > 0),
    number           TEXT NOT NULL CHECK (number <> ''),
    channel          TEXT NOT NULL,
    day              TEXT NOT NULL CHECK (day = '' OR day GLOB '????-??-??'),
    purpose          TEXT NOT NULL CHECK (purpose IN ('sale', 'deposit', 'friend', 'press', 'shop')),
    copies           INTEGER NOT NULL CHECK (copies > 0),
    price            INTEGER NOT NULL, -- minor units
    price_currency   TEXT NOT NULL,
    postage          INTEGER NOT NULL, -- minor units
    postage_currency TEXT NOT NULL,
    country          TEXT NOT NULL CHECK (country = '' OR length(country) = 2),
    state            TEXT NOT NULL CHECK (state IN ('open', 'sent', 'cancelled')),
    list_id          INTEGER REFERENCES order_lists (id),
    entered          TEXT NOT NULL CHECK (entered GLOB '????-??-??T??:??:??.?????????Z'),
    erased           INTEGER NOT NULL DEFAULT 0 CHECK (erased IN (0, 1)),
    personal         TEXT NOT NULL CHECK (json_valid(personal)),
    UNIQUE (title_id, channel, number)
) STRICT;

CREATE TABLE copies (
    title_id INTEGER NOT NULL REFERENCES titles (id),
    series   TEXT NOT NULL CHECK (series IN ('edition', 'proof', 'outside')),
    number   INTEGER NOT NULL CHECK (number > 0),
    purpose  TEXT NOT NULL CHECK (purpose IN ('sale', 'deposit', 'friend', 'press', 'maker')),
    place    TEXT NOT NULL CHECK (place IN ('here', 'shop', 'sold', 'given', 'damaged')),
    shop     TEXT NOT NULL DEFAULT '',
    order_id INTEGER REFERENCES orders (id),
    note     TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (title_id, series, number),
    CHECK (place <> 'sold' OR order_id IS NOT NULL),
    CHECK (order_id IS NULL OR place IN ('sold', 'given', 'shop')),
    CHECK ((place = 'shop') = (shop <> ''))
) STRICT;

CREATE INDEX copies_order ON copies (order_id);

-- Whoever asks, no copy is sold or given twice, and none beyond what was ordered.

-- +goose StatementBegin
CREATE TRIGGER copies_go_once BEFORE UPDATE OF order_id ON copies
WHEN OLD.place IN ('sold', 'given') AND NEW.order_id IS NOT NULL AND NEW.order_id IS NOT OLD.order_id
BEGIN
    SELECT RAISE(ABORT, 'a copy that is sold cannot be sold again');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER copies_as_ordered BEFORE UPDATE OF order_id ON copies
WHEN NEW.order_id IS NOT NULL AND NEW.order_id IS NOT OLD.order_id
 AND (SELECT count(*) FROM copies WHERE order_id = NEW.order_id) >= (SELECT copies FROM orders WHERE id = NEW.order_id)
BEGIN
    SELECT RAISE(ABORT, 'an order has all the copies it asks for');
END;
-- +goose StatementEnd

-- What the maker decided for the copies of a title: the edition, the post (packing,
-- limits, prices, zones, rates, sender) and how tables of orders are read. A title
-- that has none of a kind begins with what was decided last for another.
CREATE TABLE decisions (
    title_id INTEGER NOT NULL REFERENCES titles (id),
    kind     TEXT NOT NULL CHECK (kind IN ('edition', 'post', 'readings')),
    revision INTEGER NOT NULL CHECK (revision > 0),
    at       TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    value    TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (title_id, kind)
) STRICT;

-- That persons were erased; not who. Settled once nothing of them is left in the
-- file's free room either.
CREATE TABLE erasures (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    title_id INTEGER NOT NULL REFERENCES titles (id),
    at       TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??.?????????Z'),
    orders   INTEGER NOT NULL CHECK (orders > 0),
    settled  INTEGER NOT NULL DEFAULT 0 CHECK (settled IN (0, 1))
) STRICT;

-- +goose Up

-- Pairs that the maker never wants to face each other. They are no statements of
-- a photo, for they are of two, and no part of the wall: bringing an earlier
-- version of it back does not change the maker's mind.
CREATE TABLE kept_apart (
    title_id INTEGER NOT NULL,
    one      INTEGER NOT NULL,
    other    INTEGER NOT NULL,
    PRIMARY KEY (title_id, one, other),
    FOREIGN KEY (title_id, one) REFERENCES photos (title_id, number),
    FOREIGN KEY (title_id, other) REFERENCES photos (title_id, number),
    CHECK (one < other)
) STRICT, WITHOUT ROWID;

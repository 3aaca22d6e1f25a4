-- +goose Up

-- Where the maker says that a face is and which way it looks; null where nothing
-- was said.
ALTER TABLE photos ADD COLUMN gaze TEXT NOT NULL DEFAULT 'null' CHECK (json_valid(gaze));

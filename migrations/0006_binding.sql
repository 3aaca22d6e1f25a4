-- +goose Up

-- How the title is to be bound, by the name the program gives the binding; ''
-- while the maker has not chosen. Which names there are is the program's.
ALTER TABLE titles ADD COLUMN binding TEXT NOT NULL DEFAULT '' CHECK (length(binding) <= 40);

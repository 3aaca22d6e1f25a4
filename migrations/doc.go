// Package migrations holds the steps that lead the data file from one shape to
// the next, as SQL files whose names begin with a number. The package knows
// nothing of how they are run; package store does that.
//
// # Append only
//
// A migration that has been published is never changed and never taken away:
// data files out there have run it. What was wrong is put right by the next
// one. There is no way down either; the way back is the dated copy that store
// takes before any migration runs.
//
// # How they are run
//
// Each file runs in one transaction, together with the note that it has been
// run. The connection is one of its own on which foreign keys are off, because
// PRAGMA foreign_keys does nothing inside a transaction.
//
// # Rebuilding a table that others refer to
//
// SQLite cannot change a CHECK or a column's kind; the table has to be built
// anew. With foreign keys on, DROP TABLE first deletes every row, and with it,
// or instead of it, what refers to those rows. Because they are off here, the
// right way is, in one migration:
//
//	CREATE TABLE titles_new (…) STRICT;
//	INSERT INTO titles_new (…) SELECT … FROM titles;
//	DROP TABLE titles;
//	ALTER TABLE titles_new RENAME TO titles;
//	-- indices and triggers went with the old table: make them again here
//	CREATE TEMP TABLE loose (reference TEXT CHECK (reference IS NULL));
//	INSERT INTO loose SELECT "table" || ' ' || rowid FROM pragma_foreign_key_check;
//	DROP TABLE loose;
//
// In this order: renaming the old table away first would make the others refer
// to it under its new name. The last three statements stand for checking the
// references before the end: a row that refers to nothing breaks the CHECK,
// and the whole migration is as if it had not been. A table that counts with
// AUTOINCREMENT takes its count in sqlite_sequence along by itself only if its
// highest row is among those copied; where a number must never be given twice,
// carry the count over too.
package migrations

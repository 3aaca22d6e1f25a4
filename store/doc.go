// Package store keeps titles, their photos, walls, journals and versions in one
// SQLite file, and is the only package with SQL. In come and out go the values
// of package sequence.
//
// A change is checked, written to the journal and carried out on the wall in
// one immediate transaction, so that the wall is at every moment what its
// journal leads to. Reads never wait for writes. Several processes may use the
// same data directory at once.
//
// What can concern the maker is told by a coded *sequence.Error; any other
// error is a fault of the program. Every method may return Cancelled when its
// context ends, and Unreadable or Damaged when the disk or the file fails;
// their comments name the other codes only.
//
// The package must never know of pictures' content, pairing, pages or HTTP,
// and never reads or writes an original.
package store

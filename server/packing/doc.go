// Package packing carries a title from one machine to another in one file.
//
// The file is a ZIP archive (ISO/IEC 21320-1) that any program can open:
//
//	title.db                 the title's rows, an SQLite data file of the program's own form
//	cards/HASH/SIZE.jpg      card images, by the SHA-256 of their original
//	originals/HASH/NAME      the originals, when they were wanted
//	pairwall.json            what the pack is, and the SHA-256 of every file above
//
// In come a title and wishes, or such a file; out goes the file, or the title.
// What is read is trusted in nothing: names are looked up and never used as
// paths, and every file must be what its checksum says. The package must never
// know of HTTP or of windows.
package packing

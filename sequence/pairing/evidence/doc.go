// Package evidence measures what two photographs of one title have to do with
// each other: five kinds of evidence, each of several relations that are kept
// apart because makers use all of them.
//
// In come a title's photos as intake measured them and as the maker stated them.
// Out come, for two photos by their index: whether a kind or a relation is known
// of both, its score from 0 to 1, and its measure in figures and in words.
//
// Scores of distances are set by what is near and far within the title; scores of
// relations that hold or do not (the same town, the same sitting) by how rare
// they are in it. What is not known is said to be missing and never counts
// against a pair.
//
// The package must never know weights, walls, partners or arrangements; and it
// measures in either order the same.
package evidence

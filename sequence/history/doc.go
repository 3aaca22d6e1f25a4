// Package history looks back over the weeks a wall has hung: which pairs have
// held, which pages never rest, what was broken after it had held long, and
// which of the versions kept by themselves could be spared. In come a title's
// journal, its lines of work and its versions; out go facts about them. It must
// never know where these are kept or how they are shown.
package history

// Package bringing fetches photographs from the maker's disks into a title and
// keeps hold of where they lie.
//
// In come folders and files, the store, and a pool of workers that read
// pictures; out go photos in the store, and progress told to whoever asked, a
// window or a terminal. Originals are only ever read; what is written lies in
// our own data directory.
//
// The package must never know of HTTP, of windows, or of what photos are used
// for afterwards.
package bringing

// Package post is what it takes to send copies: which packing holds them, what a
// parcel weighs and measures, which service may carry it and costs least, and
// what the customs want to know.
//
// In come the maker's own lists (packing as weighed, limits, prices, zones, the
// rate of the SDR) and parcels' contents; out go choices with their reasons. No
// price and no limit is built in but the international ones, which say their
// source and can be changed: the maker's post office decides. The package must
// never know of a network, of files or of who the addressee is.
package post

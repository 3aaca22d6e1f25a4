package migrations

import (
	"embed"
	"io/fs"

	"github.com/pressly/goose/v3"
)

// Files holds every migration, named NNNN_what.sql.
//
//go:embed *.sql
var Files embed.FS

// Latest is the number of the newest migration.
func Latest() int64 {
	names, err := fs.Glob(Files, "*.sql")
	if err != nil || len(names) == 0 {
		panic("migrations: none are embedded") // they are part of this binary
	}
	latest, err := goose.NumericComponent(names[len(names)-1])
	if err != nil {
		panic(err)
	}
	return latest
}

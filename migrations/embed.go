package migrations

import "embed"

// Files holds every migration, named NNNN_what.sql.
//
//go:embed *.sql
var Files embed.FS

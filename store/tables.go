package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
)

// table is what a title's rows lie in, as the data file itself describes it: a
// title is packed and unpacked without a list of tables that a later migration
// would have to remember.
type table struct {
	name    string
	columns []string
	key     []string          // of the primary key, in its order
	counted bool              // its id counts through all titles
	refers  map[string]string // column -> the table whose id stands in it
}

// tablesOf lists the tables of the database named in SQL (main, or one that was
// attached), titles first.
func tablesOf(ctx context.Context, q querier, database string) ([]table, error) {
	names, err := texts(ctx, q, `SELECT name FROM `+database+`.sqlite_schema WHERE type = 'table'
		AND name NOT LIKE 'sqlite\_%' ESCAPE '\' AND name <> 'goose_db_version' ORDER BY name <> 'titles', name`)
	if err != nil {
		return nil, err
	}
	tables := make([]table, 0, len(names))
	for _, name := range names {
		t, err := describe(ctx, q, database, name)
		if err != nil {
			return nil, err
		}
		if name != titlesTable && !slices.Contains(t.columns, titleColumn) {
			return nil, fmt.Errorf("table %s belongs to no title", name)
		}
		tables = append(tables, t)
	}
	return tables, nil
}

const (
	titlesTable = "titles"
	titleColumn = "title_id"
)

func describe(ctx context.Context, q querier, database, name string) (t table, err error) {
	t = table{name: name, refers: make(map[string]string)}
	if t.columns, err = texts(ctx, q, `SELECT name FROM pragma_table_xinfo(?, ?) WHERE hidden = 0 ORDER BY cid`, name, database); err != nil {
		return t, err
	}
	if t.key, err = texts(ctx, q, `SELECT name FROM pragma_table_xinfo(?, ?) WHERE pk > 0 ORDER BY pk`, name, database); err != nil {
		return t, err
	}
	t.counted = slices.Equal(t.key, []string{"id"})
	rows, err := q.QueryContext(ctx, `SELECT "from", "table" FROM pragma_foreign_key_list(?, ?) WHERE "to" = 'id'`, name, database)
	if err != nil {
		return t, err
	}
	defer rows.Close()
	for rows.Next() {
		var from, to string
		if err := rows.Scan(&from, &to); err != nil {
			return t, err
		}
		t.refers[from] = to
	}
	return t, rows.Err()
}

// belongs is the column that says which title a row is of.
func (t table) belongs() string {
	if t.name == titlesTable {
		return "id"
	}
	return titleColumn
}

func (t table) names() string { return strings.Join(quoted(t.columns), ", ") }
func (t table) order() string { return strings.Join(quoted(t.key), ", ") }

func quoted(names []string) []string {
	list := make([]string, len(names))
	for i, name := range names {
		list[i] = `"` + strings.ReplaceAll(name, `"`, `""`) + `"`
	}
	return list
}

// texts reads one column of text.
func texts(ctx context.Context, q querier, query string, args ...any) ([]string, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []string
	for rows.Next() {
		var text sql.NullString
		if err := rows.Scan(&text); err != nil {
			return nil, err
		}
		list = append(list, text.String)
	}
	return list, rows.Err()
}

package store

import (
	"context"

	"pairwall/sequence"
)

// Hung lists the photos that are or once were on the wall, lower numbers first:
// every page a journaled change has put one on, and every version's wall. What
// a change took away again counts, and so does what was undone: it was seen
// there. The cost is that of reading the journal once.
//
// Error: NotFound when there is no such title.
func (s *Store) Hung(ctx context.Context, title sequence.TitleID) ([]sequence.PhotoID, error) {
	return listOf(ctx, s, title, func(row scanner) (photo sequence.PhotoID, err error) {
		err = row.Scan(&photo)
		return photo, err
	}, `WITH steps AS (
			SELECT step.value AS step FROM journal j, json_each(j.change, '$.steps') step WHERE j.title_id = ?1
		), spreads AS (
			SELECT step -> '$.spread' AS spread FROM steps WHERE step ->> '$.do' = 'add'
			UNION ALL SELECT s.value FROM versions v, json_each(v.state, '$.spreads') s WHERE v.title_id = ?1
			UNION ALL SELECT s.value FROM walls w, json_each(w.state, '$.spreads') s WHERE w.title_id = ?1
		)
		SELECT step ->> '$.now' AS photo FROM steps WHERE step ->> '$.do' = 'put' AND photo > 0
		UNION SELECT spread ->> '$.left' AS photo FROM spreads WHERE photo > 0
		UNION SELECT spread ->> '$.right' AS photo FROM spreads WHERE photo > 0
		UNION SELECT state ->> '$.opening' AS photo FROM versions WHERE title_id = ?1 AND photo > 0
		UNION SELECT state ->> '$.closing' AS photo FROM versions WHERE title_id = ?1 AND photo > 0
		UNION SELECT state ->> '$.opening' AS photo FROM walls WHERE title_id = ?1 AND photo > 0
		UNION SELECT state ->> '$.closing' AS photo FROM walls WHERE title_id = ?1 AND photo > 0
		ORDER BY photo`)
}

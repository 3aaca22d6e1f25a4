package server

import (
	"net/http"

	"pairwall/sequence"
)

type hangingAsked struct {
	Text string `json:"text"` // in the notation: 12+47 / 3+19 / 8
}

// hangingRead is a wall as it was typed, and what would become of the present
// one. Sequence and change are left out as long as there are slips.
type hangingRead struct {
	Hanging  sequence.Hanging   `json:"hanging"`
	Text     string             `json:"text"` // written anew
	Slips    []sequence.Slip    `json:"slips"`
	Sequence *sequence.Sequence `json:"sequence,omitempty"` // the wall hung so
	Change   *sequence.Change   `json:"change,omitempty"`   // that hangs it so; it can be undone
	Words    string             `json:"words"`              // what would change
	Gone     []sequence.PhotoID `json:"gone"`               // hang now, and would lie on the table
	Unboxed  []sequence.PhotoID `json:"unboxed"`            // lie in the box now, and would hang
	Come     []sequence.PhotoID `json:"come"`               // lie on the table now, and would hang
}

// readHanging reads a wall that was typed; nothing changes until its change is
// made.
func (s *Server) readHanging(r *http.Request, in hangingAsked) (hangingRead, error) {
	title, err := s.title(r)
	if err != nil {
		return hangingRead{}, err
	}
	photos, err := s.store.Photos(r.Context(), title.ID)
	if err != nil {
		return hangingRead{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return hangingRead{}, err
	}
	known := make(map[sequence.PhotoID]bool, len(photos))
	for _, p := range photos {
		known[p.Number] = true
	}
	var read hangingRead
	read.Hanging, read.Slips = sequence.ReadHanging(in.Text, known)
	read.Slips, read.Gone, read.Unboxed, read.Come = list(read.Slips), []sequence.PhotoID{}, []sequence.PhotoID{}, []sequence.PhotoID{}
	if len(read.Slips) > 0 {
		return read, nil
	}
	read.Text = read.Hanging.String()
	next := wall.Sequence.Hung(read.Hanging)
	change, err := sequence.Between(wall.Sequence, next, "hang it as the paper wall hangs")
	if err != nil {
		return hangingRead{}, err
	}
	diff := sequence.Compare(wall.Sequence, next)
	boxed := make(map[sequence.PhotoID]bool)
	for _, id := range wall.Sequence.Box {
		boxed[id] = true
	}
	for _, id := range diff.Come {
		if boxed[id] {
			read.Unboxed = append(read.Unboxed, id)
		} else {
			read.Come = append(read.Come, id)
		}
	}
	read.Sequence, read.Change, read.Gone, read.Words = &next, &change, list(diff.Gone), diff.Words()
	return read, nil
}

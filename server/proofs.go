package server

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/proof"
	"pairwall/server/bringing"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
)

// proofsShown are a title's rounds of proofs with everything said in words.
type proofsShown struct {
	Rounds    []roundShown        `json:"rounds"`
	TakenOut  []int               `json:"takenOut"`  // rounds that can be put back
	Questions []proof.Question    `json:"questions"` // the check list
	Pages     []int               `json:"pages"`     // of the book that have a photo, and so can be measured
	Photos    []sequence.PhotoID  `json:"photos"`    // on each of them
	Versions  map[string]sinceNow `json:"versions"`  // by version: what changed since
	Printers  []string            `json:"printers"`  // names of those the title has to do with, asked for a quote or not yet
}

// sinceNow is a version of the sequence behind a round and how the wall differs.
type sinceNow struct {
	Name  string `json:"name"`
	Words string `json:"words"` // how the present wall differs from it
}

// roundShown is one round.
type roundShown struct {
	Number   int            `json:"number"`
	Revision int64          `json:"revision"`
	Round    proof.Round    `json:"round"`
	Known    bool           `json:"known"` // its printer is one of the title's
	Findings []findingShown `json:"findings"`
	TakenOut []int          `json:"takenOut"` // photographs that can be put back
}

// findingShown is what one photograph told.
type findingShown struct {
	Number  int               `json:"number"`
	Page    int               `json:"page"`
	Name    string            `json:"name"`
	Finding proof.Measurement `json:"finding"`
	Words   proof.Words       `json:"words"`
	Since   *sinceRound       `json:"since,omitempty"`  // beside the latest photograph of that page in an earlier round
	Beside  *besidePage       `json:"beside,omitempty"` // beside another page, where nothing tells the light
}

type sinceRound struct {
	Round    int            `json:"round"`
	Progress proof.Progress `json:"progress"`
	Words    []string       `json:"words"`
}

type besidePage struct {
	Page  int      `json:"page"`
	Words []string `json:"words"`
}

// roundWanted is a round as the maker wants it.
type roundWanted struct {
	Revision int64       `json:"revision"` // of the round the maker sees
	Round    proof.Round `json:"round"`
}

// measuredWith says what else lies in a photograph of a proof.
type measuredWith struct {
	Target proof.Edition `json:"target"`         // which 24-patch target; "" for that made after 2014
	Card   *pages.Point  `json:"card,omitempty"` // the middle of a grey card in it
}

func (s *Server) showProofs(r *http.Request) (proofsShown, error) {
	title, err := s.title(r)
	if err != nil {
		return proofsShown{}, err
	}
	return s.proofs(r.Context(), title.ID)
}

// proofs says all that is known of a title's proofs.
func (s *Server) proofs(ctx context.Context, title sequence.TitleID) (proofsShown, error) {
	shown := proofsShown{Rounds: []roundShown{}, TakenOut: []int{}, Questions: proof.Questions, Pages: []int{}, Photos: []sequence.PhotoID{}, Versions: map[string]sinceNow{}, Printers: []string{}}
	rounds, err := s.store.Proofs(ctx, title)
	if err != nil {
		return shown, err
	}
	m, err := printing.Gather(ctx, s.store, title)
	if err != nil {
		return shown, err
	}
	for _, p := range m.Book().Pages {
		if p.Shown != nil {
			shown.Pages, shown.Photos = append(shown.Pages, p.Number), append(shown.Photos, p.Shown.Photo)
		}
	}
	inquiry, err := s.store.Inquiry(ctx, title)
	if err != nil {
		return shown, err
	}
	for _, p := range inquiry.Printers {
		shown.Printers = append(shown.Printers, p.Is.Name)
	}
	var earlier []store.ProofFinding
	for _, round := range rounds {
		if round.TakenOut {
			shown.TakenOut = append(shown.TakenOut, round.Number)
			continue
		}
		one := roundOf(round, earlier)
		one.Known = slices.ContainsFunc(shown.Printers, round.Round.From)
		shown.Rounds = append(shown.Rounds, one)
		for _, f := range round.Findings {
			if !f.TakenOut {
				earlier = append(earlier, f)
			}
		}
		if v := round.Round.Sent.Version; v != 0 {
			version, err := s.store.Version(ctx, title, v)
			if sequence.CodeOf(err) == sequence.NotFound {
				continue // thinned out since
			}
			if err != nil {
				return shown, err
			}
			shown.Versions[strconv.FormatInt(int64(v), 10)] = sinceNow{version.Name, sequence.Compare(version.Sequence, m.Wall).Words()}
		}
	}
	return shown, nil
}

// roundOf says a round, each page beside its latest photograph in an earlier one.
func roundOf(round store.ProofRound, earlier []store.ProofFinding) roundShown {
	out := roundShown{Number: round.Number, Revision: round.Revision, Round: round.Round, Findings: []findingShown{}, TakenOut: []int{}}
	if out.Round.Looks == nil {
		out.Round.Looks = []proof.Look{}
	}
	for _, f := range round.Findings {
		if f.TakenOut {
			out.TakenOut = append(out.TakenOut, f.Number)
			continue
		}
		shown := findingShown{Number: f.Number, Page: f.Page, Name: f.Name, Finding: f.Finding, Words: f.Finding.Words()}
		for _, was := range earlier {
			if was.Page == f.Page {
				c := proof.Compare(was.Finding, f.Finding)
				shown.Since = &sinceRound{was.Round, c, c.Words()}
			}
		}
		if f.Finding.Base == proof.None {
			shown.Beside = beside(f, round.Findings)
		}
		out.Findings = append(out.Findings, shown)
	}
	return out
}

// beside compares a page with another of its round that was photographed alike.
func beside(f store.ProofFinding, others []store.ProofFinding) *besidePage {
	for _, o := range others {
		if o.TakenOut || o.Page == f.Page || o.Finding.Base != proof.None {
			continue
		}
		b := besidePage{Page: o.Page, Words: []string{}}
		for _, z := range f.Finding.Beside(o.Finding) {
			if z.Name == proof.Lights || z.Name == proof.Midtones || z.Name == proof.Shadows {
				b.Words = append(b.Words, z.Says())
			}
		}
		return &b
	}
	return nil
}

// reproof is the one way on which rounds change: do it, tell every window, show
// all of it.
func (s *Server) reproof(r *http.Request, do func(context.Context, sequence.TitleID) error) (proofsShown, error) {
	title, err := s.title(r)
	if err != nil {
		return proofsShown{}, err
	}
	if err := do(r.Context(), title.ID); err != nil {
		return proofsShown{}, err
	}
	s.desk(title.ID).hub.Publish("proofs", nothing{})
	return s.proofs(r.Context(), title.ID)
}

// addRound begins a round. The wall as it hangs is kept as a version, so that it
// can be told what changed since.
func (s *Server) addRound(r *http.Request, in proof.Round) (proofsShown, error) {
	if err := in.Check(); err != nil {
		return proofsShown{}, err
	}
	return s.reproof(r, func(ctx context.Context, title sequence.TitleID) error {
		rounds, err := s.store.Proofs(ctx, title)
		if err != nil {
			return err
		}
		version, err := s.store.KeepVersion(ctx, title, fmt.Sprintf("Proof %d", len(rounds)+1))
		if err != nil {
			return err
		}
		s.desk(title).hub.Publish("versions", nothing{})
		in.Sent.Version = version.ID
		_, err = s.store.AddProofRound(ctx, title, in)
		return err
	})
}

func (s *Server) changeRound(r *http.Request, in roundWanted) (proofsShown, error) {
	return s.reproof(r, func(ctx context.Context, title sequence.TitleID) error {
		round, err := route.Number(r, "round")
		if err != nil {
			return err
		}
		return s.store.ChangeProofRound(ctx, title, int(round), in.Revision, in.Round)
	})
}

func (s *Server) takeOutRound(r *http.Request) (proofsShown, error) { return s.roundOut(r, true) }
func (s *Server) putBackRound(r *http.Request) (proofsShown, error) { return s.roundOut(r, false) }

func (s *Server) roundOut(r *http.Request, out bool) (proofsShown, error) {
	return s.reproof(r, func(ctx context.Context, title sequence.TitleID) error {
		round, err := route.Number(r, "round")
		if err != nil {
			return err
		}
		return s.store.TakeOutProofRound(ctx, title, int(round), out)
	})
}

// measureProof takes the photograph of a page and measures it. It ends early
// when the one who asks goes away.
func (s *Server) measureProof(r *http.Request) (proofsShown, error) {
	return s.reproof(r, func(ctx context.Context, title sequence.TitleID) error {
		round, err := route.Number(r, "round")
		if err != nil {
			return err
		}
		page, err := strconv.Atoi(r.URL.Query().Get("page"))
		if err != nil {
			return err // the route has looked that it is a number
		}
		m, err := printing.Gather(ctx, s.store, title)
		if err != nil {
			return err
		}
		wanted, err := s.press.Wanted(ctx, m, page)
		if err != nil {
			return err
		}
		name, view, err := s.takeProof(r)
		if err != nil {
			return err
		}
		found, err := measure(ctx, wanted, view, measuredWith{})
		if err != nil {
			return err
		}
		_, err = s.store.AddProofFinding(ctx, title, store.ProofFinding{Round: int(round), Page: page, Name: name, Finding: found}, view)
		return err
	})
}

// takeProof decodes the one photograph sent, in a worker.
func (s *Server) takeProof(r *http.Request) (name string, view []byte, err error) {
	parts, err := uploaded(r)
	if err != nil {
		return "", nil, err
	}
	folder, err := os.MkdirTemp("", "pairwall-proof-")
	if err != nil {
		return "", nil, bringing.Unreadable("the folder for passing files", err)
	}
	defer os.RemoveAll(folder)
	drop := &bringing.Drop{Folder: folder}
	file := ""
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		if file != "" {
			return &sequence.Error{Code: sequence.Invalid, Message: "One photograph at a time, please: each is of one page."}
		}
		name = part.FileName()
		file = "proof" + filepath.Ext(bringing.SafeName(name))
		return drop.Take(r.Context(), file, part)
	})
	if err != nil {
		return "", nil, err
	}
	if file == "" {
		return "", nil, &sequence.Error{Code: sequence.Invalid, Message: "No photograph was sent."}
	}
	shot, err := s.pool.Shot(r.Context(), filepath.Join(folder, file), folder)
	return name, shot.View, err
}

// measure reads a photograph as Shot made it and measures it.
func measure(ctx context.Context, wanted proof.Page, view []byte, with measuredWith) (proof.Measurement, error) {
	img, err := jpeg.Decode(bytes.NewReader(view))
	if err != nil {
		return proof.Measurement{}, &sequence.Error{Code: sequence.Damaged, Message: "The photograph of the proof can no longer be read.", Err: err}
	}
	shot := image.NewRGBA(img.Bounds())
	draw.Draw(shot, shot.Rect, img, img.Bounds().Min, draw.Src)
	return proof.Measure(ctx, wanted, shot, proof.Aids{Target: with.Target, Card: with.Card})
}

// measureAgain measures a photograph once more, told what else lies in it, or
// against the page as it is now.
func (s *Server) measureAgain(r *http.Request, in measuredWith) (proofsShown, error) {
	if in.Target != "" && in.Target != proof.Before2014 && in.Target != proof.After2014 {
		return proofsShown{}, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is no edition of the 24-patch target.", in.Target)}
	}
	return s.reproof(r, func(ctx context.Context, title sequence.TitleID) error {
		number, err := route.Number(r, "photograph")
		if err != nil {
			return err
		}
		view, page, err := s.store.ProofPicture(ctx, title, int(number))
		if err != nil {
			return err
		}
		m, err := printing.Gather(ctx, s.store, title)
		if err != nil {
			return err
		}
		wanted, err := s.press.Wanted(ctx, m, page)
		if err != nil {
			return err
		}
		found, err := measure(ctx, wanted, view, in)
		if err != nil {
			return err
		}
		if in.Card != nil && found.Base != proof.ByCard && found.Base != proof.ByTarget {
			return &sequence.Error{Code: sequence.Invalid, Message: "What lies there cannot serve as a grey card.",
				Hint: "Press the middle of an even grey that is neither white nor black in the photograph, and see that bare paper of the page is in view."}
		}
		return s.store.MeasureProofAgain(ctx, title, int(number), found)
	})
}

func (s *Server) takeOutPhotograph(r *http.Request) (proofsShown, error) {
	return s.photographOut(r, true)
}
func (s *Server) putBackPhotograph(r *http.Request) (proofsShown, error) {
	return s.photographOut(r, false)
}

func (s *Server) photographOut(r *http.Request, out bool) (proofsShown, error) {
	return s.reproof(r, func(ctx context.Context, title sequence.TitleID) error {
		number, err := route.Number(r, "photograph")
		if err != nil {
			return err
		}
		return s.store.TakeOutProofFinding(ctx, title, int(number), out)
	})
}

// proofPicture sends the photograph of a proof.
func (s *Server) proofPicture(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	number, err := route.Number(r, "photograph")
	if err != nil {
		return err
	}
	view, _, err := s.store.ProofPicture(r.Context(), title.ID, int(number))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, no-store")
	_, err = w.Write(view)
	return err
}

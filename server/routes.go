package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/store"
)

// route is one line of the table from which the router and the description of
// the API are made. The types of its bodies are those of its handler, so the
// two cannot drift apart.
type route struct {
	method, path string
	doc          string // one sentence
	query        []parameter
	takes        any  // the zero value of the request's JSON body; nil when there is none
	upload       bool // takes files as multipart/form-data instead
	status       int  // of success
	gives        any  // the zero value of the answer's JSON body; nil when it is not JSON
	media        string
	fails        []sequence.Code
	handler      any // the method that answers: its name is the operation's
	serve        func(s *Server, status int, w http.ResponseWriter, r *http.Request) error
}

// parameter is one thing that may be asked for behind the question mark.
type parameter struct {
	name, kind string // kind: "integer", "number" or "string"
	required   bool
	doc        string
}

// routes is the whole API.
func routes() []route {
	const (
		title   = "/api/titles/{title}"
		version = title + "/versions/{version}"
		tracks  = title + "/tracks"
		bring   = title + "/brings/{bring}"
		size    = "160, 400 or 1600: the longer side in pixels"
	)
	return []route{
		gives("GET", "/api/titles", "Lists the titles.", (*Server).listTitles),
		takes("POST", "/api/titles", "Begins a title.", (*Server).createTitle, sequence.Conflict).answering(http.StatusCreated),
		gives("GET", title, "Gives a title with its photos, its wall, the files refused and what was brought in.",
			(*Server).showTitle, sequence.NotFound),
		takes("PATCH", title, "Changes a title's name or how much each kind of evidence counts.",
			(*Server).amendTitle, sequence.NotFound, sequence.Conflict),

		takes("POST", title+"/changes", "Makes a change on the wall.", (*Server).applyChange, sequence.NotFound, sequence.Stale),
		takes("POST", title+"/undo", "Takes back the last act.", (*Server).undo, sequence.NotFound, sequence.Stale),
		takes("POST", title+"/redo", "Does again what was taken back last.", (*Server).redo, sequence.NotFound, sequence.Stale),

		gives("GET", title+"/partners", "Proposes photos to face one photo, with reasons.",
			(*Server).listPartners, sequence.NotFound).asking(partnerQuery()...),
		takes("POST", title+"/arrangement", "Proposes an arrangement; nothing changes until its change is made.",
			(*Server).arrange, sequence.NotFound),

		gives("GET", title+"/versions", "Lists the versions, newest first, each with what it changed.",
			(*Server).listVersions, sequence.NotFound),
		takes("POST", title+"/versions", "Keeps the present wall under a name.",
			(*Server).keepVersion, sequence.NotFound).answering(http.StatusCreated),
		gives("GET", version, "Gives a version with its wall and how the present wall differs from it.",
			(*Server).showVersion, sequence.NotFound),
		takes("PATCH", version, "Names a version.", (*Server).nameVersion, sequence.NotFound),
		takes("POST", version+"/bring-back", "Makes a version the present wall, as one change that can be undone.",
			(*Server).bringBack, sequence.NotFound, sequence.Stale),

		gives("GET", "/api/folders", "Lists the folders in a folder of this machine.", (*Server).listFolders, sequence.NotFound).asking(
			parameter{name: "path", kind: "string", doc: "The folder; the home folder when left out."}),
		takes("POST", title+"/brings", "Begins to bring in the photographs of folders.",
			(*Server).startBring, sequence.NotFound).answering(http.StatusAccepted),
		gives("POST", title+"/files", "Takes dropped files and begins to bring them in.",
			(*Server).dropFiles, sequence.NotFound, sequence.Invalid, sequence.TooLarge, wrongMedia).uploading(),
		gives("DELETE", bring, "Stops bringing in; what came in stays.",
			(*Server).cancelBring, sequence.NotFound).answering(http.StatusAccepted),
		gives("POST", bring+"/go-on", "Brings in again from the same folders or files.",
			(*Server).goOnBring, sequence.NotFound, sequence.Conflict).answering(http.StatusAccepted),

		gives("GET", title+"/originals", "Tells which originals are missing or not as they were.",
			(*Server).lookAtOriginals, sequence.NotFound),
		takes("POST", title+"/originals", "Begins to look below a folder for originals that are missing or have changed, by their content.",
			(*Server).findOriginals, sequence.NotFound, sequence.Conflict).answering(http.StatusAccepted),

		gives("GET", "/api/towns", "Finds towns by a name, or the nearest to a position with a label for it.", (*Server).listTowns).asking(townQuery()...),
		gives("GET", tracks, "Lists the tracks, the earliest first.", (*Server).listTracks, sequence.NotFound),
		gives("POST", tracks, "Takes GPX files and keeps their points.", (*Server).addTracks,
			sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, sequence.Unsupported, wrongMedia).uploading().answering(http.StatusCreated),
		gives("DELETE", tracks+"/{track}", "Takes a track away; what was borrowed from it stays.", (*Server).removeTrack, sequence.NotFound),
		takes("POST", title+"/borrowings", "Proposes places from tracks or from a phone's photos; nothing changes until its change is made.",
			(*Server).borrow, sequence.NotFound),
		gives("GET", title+"/piles", "Gives the photos that are nearly the same picture, in piles with the sharpest first.",
			(*Server).listPiles, sequence.NotFound),
		takes("PATCH", title+"/rolls/{roll}", "Gives the change that numbers a roll's frames backwards; nothing changes until it is made.",
			(*Server).reverseRoll, sequence.NotFound),

		sends(title+"/events", "Streams what happens to a title, as server-sent events.",
			"text/event-stream", (*Server).events, sequence.NotFound),
		sends("/cards/{title}/{photo}/{size}.jpg", "Gives a card's image; size is "+size+".",
			"image/jpeg", (*Server).card, sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge),
		sends("/", "Gives the page.", "text/html", (*Server).page),
		sends("/static/{hash}/*", "Gives a file of the page, under the hash of its build.",
			"*/*", (*Server).static, sequence.NotFound),
		sends("/api", "Gives this description.", "application/json", (*Server).describe),
	}
}

// changed is what every act on the wall answers, and what its event carries.
type changed struct {
	Entry  sequence.Entry              `json:"entry"`
	Wall   store.Wall                  `json:"wall"`
	Labels map[sequence.PhotoID]string `json:"labels,omitempty"` // of the photos whose place the act states
}

// gives makes a route that takes no JSON body.
func gives[Out any](method, path, doc string, do func(*Server, *http.Request) (Out, error), fails ...sequence.Code) route {
	var out Out
	return route{method: method, path: path, doc: doc, status: http.StatusOK, gives: out, fails: fails, handler: do,
		serve: func(s *Server, status int, w http.ResponseWriter, r *http.Request) error {
			answer, err := do(s, r)
			if err == nil {
				s.write(w, r, status, answer)
			}
			return err
		}}
}

// takes makes a route whose request has a JSON body.
func takes[In, Out any](method, path, doc string, do func(*Server, *http.Request, In) (Out, error), fails ...sequence.Code) route {
	line := gives(method, path, doc, func(s *Server, r *http.Request) (out Out, err error) {
		var in In
		if err := decode(r, &in); err != nil {
			return out, err
		}
		return do(s, r, in)
	}, append(fails, sequence.Invalid, sequence.TooLarge, wrongMedia)...)
	var in In
	line.takes, line.handler = in, do
	return line
}

// sends makes a route that writes its answer itself.
func sends(path, doc, media string, do func(*Server, http.ResponseWriter, *http.Request) error, fails ...sequence.Code) route {
	return route{method: http.MethodGet, path: path, doc: doc, status: http.StatusOK, media: media, fails: fails, handler: do,
		serve: func(s *Server, _ int, w http.ResponseWriter, r *http.Request) error { return do(s, w, r) }}
}

func (l route) asking(query ...parameter) route {
	l.query, l.fails = query, append(l.fails, sequence.Invalid)
	return l
}

func (l route) answering(status int) route {
	l.status = status
	return l
}

func (l route) uploading() route {
	l.upload, l.status = true, http.StatusAccepted
	return l
}

package server

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/gate"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
)

// asWorker, as its first argument, makes this test program what `pairwall
// worker` is.
const asWorker = "worker"

func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == asWorker {
		if err := intake.Serve(os.Stdin, os.Stdout, intake.DefaultLimits, printing.Readers()...); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	openapi3filter.RegisterBodyDecoder("image/jpeg", openapi3filter.FileBodyDecoder)
	os.Exit(m.Run())
}

// house is a whole server: a real store and real workers in directories of the
// test's own, spoken to over a real connection. Everything said in either
// direction is held against openapi.json.
type house struct {
	*Server
	t      *testing.T
	served *httptest.Server
	client *http.Client
	doc    *openapi3.T
	router chi.Router

	mu   sync.Mutex
	seen map[string]bool // operations that were answered with success
}

func newHouse(t *testing.T) *house {
	t.Helper()
	return openHouse(t, t.TempDir())
}

func openHouse(t *testing.T, data string) *house {
	t.Helper()
	st, err := store.Open(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	pool := intake.NewPool(2, []string{program, asWorker}, intake.DefaultLimits)
	s := New(Config{Store: st, Pool: pool, Data: data, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	h := &house{Server: s, t: t, doc: loadDescription(t), seen: make(map[string]bool)}
	handler := s.Handler()
	h.router = handler.(chi.Router)
	h.served = httptest.NewServer(handler)
	h.client = &http.Client{Transport: witness{h}, Timeout: 5 * time.Minute}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		h.served.Close()
		if err := pool.Close(); err != nil {
			t.Error(err)
		}
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	})
	return h
}

// witness holds what is said against the description.
type witness struct{ *house }

func (h witness) RoundTrip(r *http.Request) (*http.Response, error) {
	var sent []byte
	if r.Body != nil {
		var err error
		if sent, err = io.ReadAll(r.Body); err != nil {
			return nil, err
		}
		r.Body = io.NopCloser(bytes.NewReader(sent))
	}
	response, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		return nil, err
	}
	context := chi.NewRouteContext()
	path := r.URL.Path
	if r.URL.RawPath != "" { // by which the router goes where a name holds a slash
		path = r.URL.RawPath
	}
	if !h.router.Match(context, r.Method, path) {
		if response.StatusCode != http.StatusNotFound && response.StatusCode != http.StatusMethodNotAllowed {
			h.t.Errorf("%s %s is on no route and answers %d", r.Method, r.URL.Path, response.StatusCode)
		}
		return response, nil
	}
	r.Body = io.NopCloser(bytes.NewReader(sent))
	return response, h.check(r, context, response)
}

func (h *house) check(r *http.Request, at *chi.Context, response *http.Response) error {
	path := strings.Replace(at.RoutePattern(), "*", "{file}", 1)
	item := h.doc.Paths.Value(path)
	operation := item.GetOperation(r.Method)
	params := make(map[string]string)
	for i, key := range at.URLParams.Keys {
		if key == "*" {
			key = "file"
		}
		params[key] = at.URLParams.Values[i]
	}
	input := &openapi3filter.RequestValidationInput{Request: r, PathParams: params,
		Route:   &routers.Route{Spec: h.doc, Path: path, PathItem: item, Method: r.Method, Operation: operation},
		Options: &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true}}
	if response.StatusCode < 400 { // a request that was refused may be wrong on purpose
		if err := openapi3filter.ValidateRequest(r.Context(), input); err != nil {
			h.t.Errorf("%s %s: the request is not as described: %v", r.Method, path, err)
		}
		h.mu.Lock()
		h.seen[operation.OperationID] = true
		h.mu.Unlock()
	}
	if strings.HasPrefix(response.Header.Get("Content-Type"), "text/event-stream") {
		return nil // has no end; its reader checks each event
	}
	body, err := io.ReadAll(response.Body)
	response.Body.Close()
	if err != nil {
		return err
	}
	response.Body = io.NopCloser(bytes.NewReader(body))
	err = openapi3filter.ValidateResponse(r.Context(), &openapi3filter.ResponseValidationInput{RequestValidationInput: input,
		Status: response.StatusCode, Header: response.Header, Body: io.NopCloser(bytes.NewReader(body)), Options: input.Options})
	if err != nil {
		h.t.Errorf("%s %s: the answer %d is not as described: %v\n%s", r.Method, path, response.StatusCode, err, body)
	}
	return nil
}

// call sends a request and reads the answer; body and into may be nil.
func (h *house) call(method, path string, body, into any) int {
	h.t.Helper()
	return h.from("window-1", method, path, body, into)
}

func (h *house) from(who, method, path string, body, into any) int {
	h.t.Helper()
	var sent io.Reader
	if body != nil {
		text, err := json.Marshal(body)
		if err != nil {
			h.t.Fatal(err)
		}
		sent = bytes.NewReader(text)
	}
	request, err := http.NewRequest(method, h.served.URL+path, sent)
	if err != nil {
		h.t.Fatal(err)
	}
	if body != nil {
		request.Header.Set("Content-Type", "application/json")
	}
	if method != http.MethodGet {
		request.Header.Set(gate.Window, who)
	}
	return h.send(request, into)
}

func (h *house) send(request *http.Request, into any) int {
	h.t.Helper()
	response, err := h.client.Do(request)
	if err != nil {
		h.t.Fatal(err)
	}
	defer response.Body.Close()
	text, err := io.ReadAll(response.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	if into != nil {
		if err := json.Unmarshal(text, into); err != nil {
			h.t.Fatalf("%s %s: %v in %s", request.Method, request.URL.Path, err, text)
		}
	}
	return response.StatusCode
}

// want calls and fails the test unless the answer has this status.
func (h *house) want(status int, method, path string, body, into any) {
	h.t.Helper()
	var text json.RawMessage
	if got := h.call(method, path, body, &text); got != status {
		h.t.Fatalf("%s %s: %d, want %d: %s", method, path, got, status, text)
	}
	if into != nil {
		if err := json.Unmarshal(text, into); err != nil {
			h.t.Fatal(err)
		}
	}
}

// refused calls and fails the test unless the answer has this status and code.
func (h *house) refused(status int, code sequence.Code, method, path string, body any) route.Problem {
	h.t.Helper()
	var is route.Problem
	h.want(status, method, path, body, &is)
	if is.Error.Code != code || !strings.HasSuffix(is.Error.Message, ".") {
		h.t.Errorf("%s %s: %+v, want code %q and a sentence", method, path, is.Error, code)
	}
	return is
}

// newTitle begins a title and returns its address.
func (h *house) newTitle(name string) (sequence.Title, string) {
	h.t.Helper()
	var title sequence.Title
	h.want(http.StatusCreated, "POST", "/api/titles", newTitle{name}, &title)
	return title, fmt.Sprintf("/api/titles/%d", title.ID)
}

// photographs writes n different small pictures into a folder.
func (h *house) photographs(n int) string {
	h.t.Helper()
	folder := h.t.TempDir()
	for i := 1; i <= n; i++ {
		put(h.t, filepath.Join(folder, fmt.Sprintf("frame %d.jpg", i)), jpegOf(h.t, i))
	}
	return folder
}

// bringAll brings a folder in and waits for the end.
func (h *house) bringAll(at, folder string) store.Bring {
	h.t.Helper()
	var job store.Bring
	h.want(http.StatusAccepted, "POST", at+"/brings", bringFrom{[]string{folder}}, &job)
	return h.await(at, job.ID)
}

func (h *house) await(at string, id int64) store.Bring {
	h.t.Helper()
	for deadline := time.Now().Add(time.Minute); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		var state titleState
		h.want(http.StatusOK, "GET", at, nil, &state)
		for _, job := range state.Brings {
			if job.ID == id && job.State != store.Running {
				return job
			}
		}
	}
	h.t.Fatalf("bring %d has not ended after a minute", id)
	return store.Bring{}
}

func (h *house) state(at string) titleState {
	h.t.Helper()
	var state titleState
	h.want(http.StatusOK, "GET", at, nil, &state)
	return state
}

// drop sends files as a browser does.
func (h *house) drop(at string, files map[string][]byte, into any) int {
	h.t.Helper()
	return h.upload(at+"/files", files, into)
}

func (h *house) upload(path string, files map[string][]byte, into any) int {
	h.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for name, content := range files {
		part, err := form.CreateFormFile("files", name)
		if err != nil {
			h.t.Fatal(err)
		}
		if _, err := part.Write(content); err != nil {
			h.t.Fatal(err)
		}
	}
	if err := form.Close(); err != nil {
		h.t.Fatal(err)
	}
	request, err := http.NewRequest(http.MethodPost, h.served.URL+path, &body)
	if err != nil {
		h.t.Fatal(err)
	}
	request.Header.Set("Content-Type", form.FormDataContentType())
	request.Header.Set(gate.Window, "window-1")
	return h.send(request, into)
}

// jpegOf is a small picture that differs by seed.
func jpegOf(t *testing.T, seed int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 96, 64))
	for y := range 64 {
		for x := range 96 {
			img.Set(x, y, color.RGBA{uint8(seed * 37), uint8(x*2 + seed), uint8(y * 3), 255})
		}
	}
	var text bytes.Buffer
	if err := jpeg.Encode(&text, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return text.Bytes()
}

func put(t *testing.T, path string, content []byte) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

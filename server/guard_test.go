package server

import (
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"

	"pairwall/server/gate"
)

// guarded serves behind the guard something that says how often it was reached.
func guarded(t *testing.T) (address string, reached *int) {
	t.Helper()
	s := &Server{log: slog.New(slog.NewTextHandler(io.Discard, nil))}
	reached = new(int)
	served := httptest.NewServer(s.guard(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { *reached++ })))
	t.Cleanup(served.Close)
	return served.Listener.Addr().String(), reached
}

func TestGuardLetsThroughOnlyOurOwnHost(t *testing.T) {
	address, reached := guarded(t)
	_, port, _ := net.SplitHostPort(address)
	other := strconv.Itoa(1 + len(port)*1000)
	for _, c := range []struct {
		host string
		want int
	}{
		{address, 200}, {"localhost:" + port, 200}, {"LocalHost:" + port, 200}, {"[::1]:" + port, 200},
		{"rebound.example:" + port, 403}, {"localhost.example:" + port, 403}, {"localhost.:" + port, 403},
		{"127.0.0.1:" + other, 403}, {"127.0.0.1", 403}, {"localhost", 403}, {"[::1]", 403},
		{"192.168.1.20:" + port, 403}, {"0.0.0.0:" + port, 403}, {"127.0.0.1.example:" + port, 403}, {"2130706433:" + port, 403},
	} {
		before := *reached
		status, body := ask(t, "GET", "http://"+address+"/api/titles", c.host, nil)
		if status != c.want || (*reached > before) != (c.want == 200) {
			t.Errorf("Host %q: %d, want %d: %s", c.host, status, c.want, body)
		}
	}
}

func TestGuardRefusesWhatAnotherPageAsksFor(t *testing.T) {
	address, reached := guarded(t)
	ours := "http://" + address
	type headers map[string]string
	for _, c := range []struct {
		name, method, path string
		send               headers
		want               int
	}{
		{"our own write", "POST", "/api/titles", headers{"Origin": ours, "Sec-Fetch-Site": "same-origin", gate.Window: "w1"}, 200},
		{"a write of a program that is no browser", "POST", "/api/titles", headers{gate.Window: "w1"}, 200},
		{"a form of another page", "POST", "/api/titles", headers{"Origin": "http://elsewhere.example", "Sec-Fetch-Site": "cross-site"}, 403},
		{"another page that knows the header", "POST", "/api/titles", headers{"Origin": "http://elsewhere.example", gate.Window: "w1"}, 403},
		{"a page on another port of this machine", "POST", "/api/titles", headers{"Origin": "http://127.0.0.1:1", gate.Window: "w1"}, 403},
		{"a sandboxed frame", "POST", "/api/titles", headers{"Origin": "null", gate.Window: "w1"}, 403},
		{"a secure page of our name", "POST", "/api/titles", headers{"Origin": "https://" + address, gate.Window: "w1"}, 403},
		{"a neighbouring site", "DELETE", "/api/titles/1/brings/1", headers{"Sec-Fetch-Site": "same-site", gate.Window: "w1"}, 403},
		{"a write typed into the address bar", "PATCH", "/api/titles/1", headers{"Sec-Fetch-Site": "none", gate.Window: "w1"}, 403},
		{"a write that names no window", "POST", "/api/titles", headers{"Origin": ours, "Sec-Fetch-Site": "same-origin"}, 403},
		{"a write that names its window at length", "POST", "/api/titles", headers{gate.Window: strings.Repeat("w", 101)}, 403},
		{"our own reading", "GET", "/api/titles", headers{"Sec-Fetch-Site": "same-origin"}, 200},
		{"a picture on another page", "GET", "/cards/1/1/400.jpg", headers{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, 403},
		{"a fetch of another page", "GET", "/api/titles", headers{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"}, 403},
		{"a link elsewhere to the API", "GET", "/api/titles", headers{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 403},
		{"a link elsewhere to the page", "GET", "/", headers{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 200},
		{"an address typed in", "GET", "/cards/1/1/400.jpg", headers{"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate"}, 200},
		{"the page in a frame elsewhere", "POST", "/", headers{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", gate.Window: "w1"}, 403},
		{"a question whether it may write", "OPTIONS", "/api/titles", headers{"Origin": "http://elsewhere.example", "Access-Control-Request-Method": "POST"}, 403},
	} {
		before := *reached
		status, body := ask(t, c.method, ours+c.path, "", c.send)
		if status != c.want || (*reached > before) != (c.want == 200) {
			t.Errorf("%s: %d, want %d: %s", c.name, status, c.want, body)
		}
	}
}

func TestGuardKeepsOthersOutThoughTheListenerWouldNot(t *testing.T) {
	request := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:80/", nil) // no connection behind it at all
	if gate.Admit(request) == nil {
		t.Error("a request that came over no loopback connection was let through")
	}
}

func TestEveryResponseForbidsWhatThePageDoesNotNeed(t *testing.T) {
	address, _ := guarded(t)
	for _, host := range []string{"", "rebound.example"} { // let through and refused
		request, _ := http.NewRequest(http.MethodGet, "http://"+address+"/", nil)
		request.Host = host
		response, err := http.DefaultClient.Do(request)
		if err != nil {
			t.Fatal(err)
		}
		response.Body.Close()
		policy := response.Header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "connect-src 'self'", "base-uri 'none'", "frame-ancestors 'none'"} {
			if !strings.Contains(policy, part) {
				t.Errorf("policy %q lacks %q", policy, part)
			}
		}
		for _, loose := range []string{"unsafe", "*", "http:", "https:", "data:"} {
			if strings.Contains(policy, loose) {
				t.Errorf("policy %q allows %q", policy, loose)
			}
		}
		for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin"} {
			if got := response.Header.Get(name); got != want {
				t.Errorf("%s: %q, want %q", name, got, want)
			}
		}
		if response.Header.Get("Access-Control-Allow-Origin") != "" {
			t.Error("another origin is allowed in")
		}
	}
}

func ask(t *testing.T, method, url, host string, headers map[string]string) (int, string) {
	t.Helper()
	request, err := http.NewRequest(method, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	request.Host = host
	for name, value := range headers {
		request.Header.Set(name, value)
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	return response.StatusCode, string(body)
}

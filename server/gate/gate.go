package gate

import (
	"context"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"

	"pairwall/sequence"
)

// Listen opens a TCP listener on this machine's own address, for example
// "127.0.0.1:8017", "[::1]:0" or "localhost:8017".
//
// Errors: Invalid when the address could be reached from another machine;
// Conflict when something else listens there already.
func Listen(addr string) (net.Listener, error) {
	host, _, err := net.SplitHostPort(addr)
	if err != nil || !loopbackName(host) {
		return nil, &sequence.Error{Code: sequence.Invalid,
			Message: "Pairwall listens on this machine only, and " + strconv.Quote(addr) + " is not an address of this machine alone.",
			Hint:    "Use 127.0.0.1, [::1] or localhost with a port, for example 127.0.0.1:8017.", Err: err}
	}
	var config net.ListenConfig
	listener, err := config.Listen(context.Background(), "tcp", addr)
	if err != nil {
		return nil, &sequence.Error{Code: sequence.Conflict,
			Message: "We cannot listen on " + addr + ".",
			Hint:    "Perhaps Pairwall is running already. Otherwise choose another port.", Err: err}
	}
	if !loopbackAddr(listener.Addr()) { // a hosts file may say anything of "localhost"
		return nil, &sequence.Error{Code: sequence.Invalid,
			Message: addr + " leads to " + listener.Addr().String() + ", which is not an address of this machine alone.",
			Hint:    "Use 127.0.0.1 or [::1] instead of a name.", Err: listener.Close()}
	}
	return listener, nil
}

func loopbackName(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip, err := netip.ParseAddr(host)
	return err == nil && ip.Zone() == "" && ip.Unmap().IsLoopback()
}

func loopbackAddr(addr net.Addr) bool {
	tcp, ok := addr.(*net.TCPAddr)
	return ok && tcp.IP.IsLoopback()
}

// Window is the header in which our page names the browser window that writes.
// A form or a plain request of another page cannot set it without asking us
// first, and we never answer such a question.
const Window = "Pairwall-Window"

// Secure sets the headers every response carries. What the policy does not
// name is forbidden: no script, style, picture or connection from anywhere but
// this server, nothing inline, no frame around the page.
func Secure(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "+
		"connect-src 'self'; font-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), usb=(), serial=(), payment=()")
	h.Set("Cache-Control", "no-store")
}

// Elsewhere is the code of what was asked for by a page or a machine that is not
// ours.
const Elsewhere sequence.Code = "elsewhere"

// Admit lets through only what our own page, or a program on this machine, can
// have asked for. A page elsewhere may make the maker's browser send requests
// here, directly or by letting its own name point to 127.0.0.1: the first shows
// in Origin and Sec-Fetch-Site, the second in Host. It wants a request that came
// in over a connection of net/http.
//
// Error: Elsewhere.
func Admit(r *http.Request) error {
	local, _ := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !loopbackAddr(local) || !hostIsOurs(r.Host, local) {
		return forbidden("This address does not belong to Pairwall.", "Open the address that Pairwall printed when it started.")
	}
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" && !opensPage(r, site) {
		return forbidden("Another page asked for this; only Pairwall's own page may.", "")
	}
	if r.Method == http.MethodGet || r.Method == http.MethodHead {
		return nil
	}
	if origin := r.Header.Get("Origin"); origin != "" && !strings.EqualFold(origin, "http://"+r.Host) {
		return forbidden("Another page tried to write here; only Pairwall's own page may.", "")
	}
	if name := r.Header.Get(Window); name == "" || len(name) > 100 {
		return forbidden("A write must name the window it comes from.", "Send the header "+Window+" with a name of at most 100 letters.")
	}
	return nil
}

// opensPage tells a person opening the page, from the address bar or from a
// link, from a page elsewhere fetching something.
func opensPage(r *http.Request, site string) bool {
	return r.Method == http.MethodGet &&
		(site == "none" || r.URL.Path == "/" && r.Header.Get("Sec-Fetch-Mode") == "navigate")
}

// hostIsOurs checks the Host header against the connection it came in on: a
// loopback name or address, and the very port that is served.
func hostIsOurs(host string, local net.Addr) bool {
	name, port, err := net.SplitHostPort(host)
	if err != nil {
		name, port = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]"), "80"
	}
	tcp, ok := local.(*net.TCPAddr)
	return ok && loopbackName(name) && port == strconv.Itoa(tcp.Port)
}

func forbidden(message, hint string) error {
	return &sequence.Error{Code: Elsewhere, Message: message, Hint: hint}
}

package server

import (
	"net"
	"net/http"

	"pairwall/server/gate"
	"pairwall/server/route"
)

// Listen opens a TCP listener on this machine's own address; see gate.Listen.
func Listen(addr string) (net.Listener, error) { return gate.Listen(addr) }

// guard admits requests or refuses them before anything else sees them.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		gate.Secure(w.Header())
		if err := gate.Admit(r); err != nil {
			route.Fail(s.log, w, r, err)
			return
		}
		next.ServeHTTP(w, r)
	})
}

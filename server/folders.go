package server

import (
	"net/http"

	"pairwall/server/bringing"
)

func (s *Server) listFolders(r *http.Request) (bringing.FolderListing, error) {
	return bringing.List(r.Context(), r.URL.Query().Get("path"))
}

package web

import "net/http"

// pageRoutes are the rows of the office pages.
func (s *Server) pageRoutes() []route { return nil }

// failPage tells a problem as a page.
func (s *Server) failPage(w http.ResponseWriter, r *http.Request, p problem) { p.write(w) }

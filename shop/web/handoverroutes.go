package web

// handoverRoutes are what the page asks about the handover.
func (s *Server) handoverRoutes() {}

package web

// supportRoutes are what the page asks about support and history.
func (s *Server) supportRoutes() {}

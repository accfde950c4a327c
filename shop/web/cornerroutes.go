package web

// cornerRoutes are what the page asks about how builds go round a corner and how steady they are.
func (s *Server) cornerRoutes() {}

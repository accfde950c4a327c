package web

// scaleRoutes are what the page asks about the scales.
func (s *Server) scaleRoutes() {}

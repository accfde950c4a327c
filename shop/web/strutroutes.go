package web

// strutRoutes are what the page asks about linkages, struts and mounts.
func (s *Server) strutRoutes() {}

package main

// bare is what the program does when nobody said anything: a double click starts
// the server and opens the page, a bare command prints its help.
func bare(clicked bool) []string {
	if clicked {
		return []string{"serve"}
	}
	return []string{"--help"}
}

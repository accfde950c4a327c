package wording

import "strings"

// joined is texts with a blank between those that are there.
func joined(parts []string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, " ")
}

package intake

import "strings"

// cutShort keeps a message short.
func cutShort(text string) string {
	text = strings.TrimSpace(text)
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return text
}

package wording

import (
	"fmt"
	"strings"
)

// PartsAsks is what has to be said of a list of parts before it can be taken in.
func PartsAsks(code, about, seen string) string {
	switch code {
	case "unit":
		return fmt.Sprintf("Which unit has %s? The list names none; the first figure is %s.", partKey(about), seen)
	case "currency":
		return fmt.Sprintf("Which currency are the prices in? The list names none; the first is %s.", seen)
	case "decimal":
		return fmt.Sprintf("Is the comma a decimal sign? The list has %s.", seen)
	case "columns":
		return "What do the columns hold? No heading is known; the first row is: " + seen
	}
	return code
}

// PartsQuestion is the same at the command line, with the flag that answers it.
func PartsQuestion(code, about, seen string, choices []string) string {
	flag := map[string]string{
		"unit":     fmt.Sprintf("Say --unit %s=U, U such as %s.", about, strings.Join(choices, ", ")),
		"currency": "Say --currency, such as EUR.",
		"decimal":  "Say --decimal point or comma.",
		"columns":  "Say --column 1=WHAT for each, WHAT one of " + strings.Join(choices, ", ") + ".",
	}[code]
	return PartsAsks(code, about, seen) + " " + flag
}

// PartsAnswer is how an answer to a question is called on a button.
func PartsAnswer(code, choice string) string {
	if code == "decimal" {
		return SweepAnswer(code, choice)
	}
	return choice
}

// PartsAssumed is what was understood of a list, in words.
func PartsAssumed(code, about, value string, line int) string {
	switch code {
	case "column":
		return fmt.Sprintf("“%s” is the %s.", value, partKey(about))
	case "not-read":
		return fmt.Sprintf("“%s” is not read.", value)
	case "unit":
		return fmt.Sprintf("%s in %s.", upper(partKey(about)), value)
	case "decimal":
		return "The " + value + " is the decimal sign."
	case "no-figure":
		return fmt.Sprintf("Line %d, “%s”, has no figure and is not taken in.", line, value)
	case "origin":
		return "Figures without another word count as the maker's, with the band usual for them."
	}
	return ""
}

// PartsTaken is what taking a list in did, or would do, to the catalogue.
func PartsTaken(fresh, changed, same int, done bool) string {
	var out []string
	add := func(n int, what string) {
		if n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, what))
		}
	}
	add(fresh, "new")
	add(changed, "changed")
	add(same, "as they are there already")
	switch {
	case len(out) == 0:
		return "No part to take in."
	case done:
		return "Taken into the catalogue: " + strings.Join(out, ", ") + "."
	}
	return "In the catalogue they would be: " + strings.Join(out, ", ") + "."
}

// PartsLeftOut says that the file of a catalogue holds no tables.
func PartsLeftOut(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d of them have curves or tables, which a list cannot hold: they stay in the catalogue, also when the list is taken in again.", n)
}

// PartsTitle heads the file of a catalogue's parts of a kind.
func PartsTitle(kind string) string { return "Catalogue: " + kind + "s" }

// partKey is what a column of a list of parts is called.
func partKey(key string) string {
	switch key {
	case "number":
		return "part number"
	case "free":
		return "free length"
	case "block":
		return "block length"
	case "inside":
		return "inside diameter"
	case "stock":
		return "note on stock and delivery"
	}
	return plainKey(key)
}

// PartRole is what a column may be, on a button.
func PartRole(role string) string {
	if role == "ignore" {
		return "leave it out"
	}
	return partKey(role)
}

// PartsFault is what is wrong in a list, where, and what to do.
func PartsFault(line int, got, want string) string {
	if line == 0 {
		return "The list " + got + "; " + want + "."
	}
	return fmt.Sprintf("Line %d %s; %s.", line, got, want)
}

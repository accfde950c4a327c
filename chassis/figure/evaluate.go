package figure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Evaluate computes the right side of a working's equation from its terms
// alone, so that anybody can check the printed result. It knows + - * / ^,
// brackets, pi, sqrt, abs, min, max, and the symbols of the terms.
func (w *Working) Evaluate() (float64, error) {
	_, right, ok := strings.Cut(w.Equation, "=")
	if !ok {
		return 0, fmt.Errorf("figure: equation %q has no right side", w.Equation)
	}
	e := evaluation{text: right, symbols: make(map[string]float64, len(w.Terms))}
	for _, t := range w.Terms {
		e.symbols[t.Symbol] = t.Value
	}
	v := e.sum()
	e.blank()
	if e.err == nil && e.at < len(e.text) {
		e.fail("unread rest %q", e.text[e.at:])
	}
	return v, e.err
}

// evaluation is a recursive-descent reading of one expression.
type evaluation struct {
	text    string
	at      int
	symbols map[string]float64
	err     error
}

func (e *evaluation) fail(format string, args ...any) float64 {
	if e.err == nil {
		e.err = fmt.Errorf("figure: %s in %q", fmt.Sprintf(format, args...), e.text)
	}
	return math.NaN()
}

func (e *evaluation) blank() {
	for e.at < len(e.text) && e.text[e.at] == ' ' {
		e.at++
	}
}

func (e *evaluation) take(c byte) bool {
	e.blank()
	if e.at < len(e.text) && e.text[e.at] == c {
		e.at++
		return true
	}
	return false
}

func (e *evaluation) sum() float64 {
	v := e.product()
	for e.err == nil {
		switch {
		case e.take('+'):
			v += e.product()
		case e.take('-'):
			v -= e.product()
		default:
			return v
		}
	}
	return v
}

func (e *evaluation) product() float64 {
	v := e.sign()
	for e.err == nil {
		switch {
		case e.take('*'):
			v *= e.sign()
		case e.take('/'):
			v /= e.sign()
		default:
			return v
		}
	}
	return v
}

func (e *evaluation) sign() float64 {
	if e.take('-') {
		return -e.sign()
	}
	return e.power()
}

func (e *evaluation) power() float64 {
	v := e.atom()
	if e.err == nil && e.take('^') {
		return math.Pow(v, e.sign())
	}
	return v
}

func (e *evaluation) atom() float64 {
	if e.take('(') {
		v := e.sum()
		if !e.take(')') {
			return e.fail("bracket not closed")
		}
		return v
	}
	e.blank()
	start := e.at
	for e.at < len(e.text) && isWord(e.text[e.at]) {
		e.at++
	}
	word := e.text[start:e.at]
	if word == "" {
		return e.fail("a number or a symbol is missing")
	}
	if c := word[0]; c >= '0' && c <= '9' {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return e.fail("%q is not a number", word)
		}
		return v
	}
	if e.take('(') {
		return e.call(word)
	}
	if v, ok := e.symbols[word]; ok {
		return v
	}
	if word == "pi" {
		return math.Pi
	}
	return e.fail("unknown symbol %q", word)
}

func (e *evaluation) call(name string) float64 {
	args := []float64{e.sum()}
	for e.err == nil && e.take(',') {
		args = append(args, e.sum())
	}
	if !e.take(')') {
		return e.fail("bracket of %s not closed", name)
	}
	switch {
	case name == "sqrt" && len(args) == 1:
		return math.Sqrt(args[0])
	case name == "abs" && len(args) == 1:
		return math.Abs(args[0])
	case name == "min" && len(args) == 2:
		return math.Min(args[0], args[1])
	case name == "max" && len(args) == 2:
		return math.Max(args[0], args[1])
	}
	return e.fail("unknown function %s of %d", name, len(args))
}

func isWord(c byte) bool {
	return c == '_' || c == '.' || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')
}

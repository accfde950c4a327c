package figure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Evaluate computes a working's result from its terms alone, so that anybody can
// check what is printed: the right side of its equation, or, of one that was
// solved, the value of the symbol at which both sides agree, sought from the one
// printed. A solution that does not show in the equation is returned as it stands
// where the sides agree.
//
// It knows + - * / ^, brackets, pi, sqrt, abs, min, max, cos and sin of an angle [rad],
// the symbols of the terms, and mean and sum over the terms x_1, x_2, … of one letter x.
func (w *Working) Evaluate() (float64, error) {
	left, right, ok := strings.Cut(w.Equation, "=")
	if !ok {
		return 0, fmt.Errorf("figure: equation %q has no right side", w.Equation)
	}
	e := evaluation{symbols: make(map[string]float64, len(w.Terms))}
	for _, t := range w.Terms {
		e.symbols[t.Symbol] = t.Value
	}
	if w.Solves == "" {
		return e.read(right), e.err
	}
	return w.solve(&e, left, right)
}

// agreed is how near the two sides of a solved equation must come, as a share of the
// greatest number added up in them: what the solutions behind them leave over.
const agreed = 1e-6

// solve finds the symbol of a solved equation by secants from its printed value.
func (w *Working) solve(e *evaluation, left, right string) (float64, error) {
	v, ok := e.symbols[w.Solves]
	if !ok {
		v = w.Result
	}
	off := func(x float64) (miss, size float64) {
		if ok {
			e.symbols[w.Solves] = x
		}
		e.size = 0
		miss = e.read(left) - e.read(right)
		return miss, e.size
	}
	miss, size := off(v)
	for range 40 {
		if e.err != nil || !ok || miss == 0 {
			break
		}
		h := 1e-6*math.Abs(v) + 1e-9
		up, _ := off(v + h)
		down, _ := off(v - h)
		step := 2 * h * miss / (up - down)
		if math.IsNaN(step) || math.IsInf(step, 0) {
			break
		}
		v -= step
		miss, size = off(v)
		if math.Abs(step) <= 1e-15*math.Abs(v) {
			break
		}
	}
	if e.err == nil && !(math.Abs(miss) <= agreed*size) {
		e.fail("the sides are %g apart", miss)
	}
	return v, e.err
}

// read evaluates one side of an equation.
func (e *evaluation) read(text string) float64 {
	e.text, e.at = text, 0
	v := e.sum()
	e.blank()
	if e.err == nil && e.at < len(e.text) {
		e.fail("unread rest %q", e.text[e.at:])
	}
	return v
}

// evaluation is a recursive-descent reading of one expression.
type evaluation struct {
	text    string
	at      int
	symbols map[string]float64
	size    float64 // greatest number that was added up [SI]
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
		e.size = math.Max(e.size, math.Abs(v))
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
		if word == "mean" || word == "sum" {
			return e.over(word)
		}
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
	case name == "cos" && len(args) == 1:
		return math.Cos(args[0])
	case name == "sin" && len(args) == 1:
		return math.Sin(args[0])
	case name == "min" && len(args) == 2:
		return math.Min(args[0], args[1])
	case name == "max" && len(args) == 2:
		return math.Max(args[0], args[1])
	}
	return e.fail("unknown function %s of %d", name, len(args))
}

// over adds up the terms x_1, x_2, … of a letter x, or takes their mean.
func (e *evaluation) over(name string) float64 {
	end := strings.IndexByte(e.text[e.at:], ')')
	if end < 0 {
		return e.fail("bracket of %s not closed", name)
	}
	letter := strings.TrimSpace(e.text[e.at : e.at+end])
	e.at += end + 1
	sum, n := 0.0, 0
	for {
		v, ok := e.symbols[letter+"_"+strconv.Itoa(n+1)]
		if !ok {
			break
		}
		sum += v
		n++
	}
	if n == 0 {
		return e.fail("no terms %s_1, %s_2", letter, letter)
	}
	if name == "mean" {
		return sum / float64(n)
	}
	return sum
}

func isWord(c byte) bool {
	return c == '_' || c == '.' || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')
}

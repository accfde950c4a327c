package figure

import "math"

// Term is one input of a working.
type Term struct {
	Symbol  string
	Name    string  // in words
	Value   float64 // [SI]
	Unit    string  // SI
	Origin  Origin
	Typed   string
	Path    string // of an input in the job; of a constant its publication
	Line    int
	Basis   string   // of an estimate
	Working *Working // when Origin is Computed or Solved and the way there is kept
}

// Working is how a value was reached: an equation that can be evaluated from
// the terms beside it.
type Working struct {
	Law      string // code of the equation
	Equation string // "s = w_touch - w_rest": left side is the result, unless it was solved
	// Solves is the symbol that was found so that both sides of the equation agree;
	// empty where the left side is the result.
	Solves string
	Source string  // publication, or "own derivation"
	Result float64 // [SI]
	Unit   string
	Terms  []Term
	// Given are the inputs that a solution was given beside its terms: each may move
	// the result, and nothing else does.
	Given []*Input
	Note  string
}

// Law is an equation where it is said, once: that of a result code in the register,
// any other beside the code that computes it.
type Law struct {
	Code     string
	Equation string
	Solves   string // see [Working]
	Unit     string // of the result, SI
	Source   string
	Note     string
}

// Own is the source of an equation that was derived here.
const Own = "own derivation"

// Of returns the working of the law with these terms, its result computed from
// them by the equation.
func (l *Law) Of(terms ...Term) *Working {
	w := l.with(terms)
	v, err := w.Evaluate()
	if err != nil {
		v = math.NaN()
	}
	w.Result = v
	return w
}

// Found returns the working of a law that was solved elsewhere, with the value that
// was found and what the solution was given.
func (l *Law) Found(value float64, given []*Input, terms ...Term) *Working {
	w := l.with(terms)
	w.Result, w.Given = value, given
	return w
}

func (l *Law) with(terms []Term) *Working {
	return &Working{Law: l.Code, Equation: l.Equation, Solves: l.Solves, Unit: l.Unit, Source: l.Source, Note: l.Note, Terms: terms}
}

// From makes a term out of a typed or estimated input.
func From(symbol, name, unit string, in *Input) Term {
	return Term{
		Symbol: symbol, Name: name, Value: in.Value, Unit: unit, Origin: in.Origin,
		Typed: in.Typed, Path: in.Path, Line: in.Line, Basis: in.Basis,
	}
}

// As makes a term out of a working: its value is the result.
func As(symbol, name string, w *Working) Term {
	t := Term{Symbol: symbol, Name: name, Value: w.Result, Unit: w.Unit, Origin: Computed, Working: w}
	if w.Solves != "" {
		t.Origin = Solved
	}
	return t
}

// Fixed makes a term out of a constant, with its publication.
func Fixed(symbol, name, unit string, value float64, source string) Term {
	return Term{Symbol: symbol, Name: name, Value: value, Unit: unit, Origin: Constant, Path: source}
}

// Among makes a term out of a number that was solved for together with others: the
// working it stands in says what the solution was given.
func Among(symbol, name, unit string, value float64) Term {
	return Term{Symbol: symbol, Name: name, Value: value, Unit: unit, Origin: Solved}
}

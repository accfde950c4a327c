package symptom

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// An expression is a figure made of the values of an answer:
//
//	lowest(travel-to-stop)
//	highest(damping-ratio[rebound, 260 mm/s] / damping-ratio[bump, 260 mm/s])
//
// A code stands for its values at every corner, road and event; what stands in
// brackets chooses among them. A minus has blanks around it. lowest, highest and
// mean make one figure of many; front, rear, left and right keep some; apart is
// the difference from left to right of each axle.
//
// Expression libraries were tried: they read travel-to-stop as two subtractions,
// do not take "260 mm/s" or "over 400 N" as something to choose by, and know no
// units, so that the rules would have to be written in another language and a unit
// still be found for each. What is left for them is four operations.
type expression struct {
	op   string // "number", "code", "call", or + − * /
	args []*expression
	name string  // of a code or a function
	at   choice  // of a code
	x    float64 // of a number [-]
}

// choice is what stands in the brackets behind a code.
type choice struct {
	load      string // "", usual, laden
	reference bool
	direction string
	velocity  float64 // [m/s]
	click     string  // "", firmest, softest, or a number
	mode      string
	event     string
	roads     bool    // no events
	threshold float64 // [N]
}

// own are codes that are not in the register: they are made here.
var own = map[string]struct{ unit, name string }{
	"wheelbase":    {"m", "wheelbase"},
	"clicks":       {"1", "clicks of the damper"},
	"braking-dive": {"m", "how far the nose drops at 0.5 g of braking"},
	"power-squat":  {"m", "how far the tail drops at 0.3 g under power"},
}

func unitOfCode(code string) (string, bool) {
	if o, ok := own[code]; ok {
		return o.unit, true
	}
	e, ok := figure.Look(code)
	return e.Unit, ok
}

var functions = []string{"lowest", "highest", "mean", "front", "rear", "left", "right", "apart", "abs"}

// parseExpression reads an expression and says in which SI unit it comes out.
func parseExpression(text string) (e *expression, unit string, err error) {
	p := &reader{rest: text}
	if e, err = p.sum(0); err != nil {
		return nil, "", fmt.Errorf("%q: %w", text, err)
	}
	if p.skip(); p.rest != "" {
		return nil, "", fmt.Errorf("%q: unexpected %q", text, p.rest)
	}
	if unit, err = e.unit(); err != nil {
		return nil, "", fmt.Errorf("%q: %w", text, err)
	}
	return e, unit, nil
}

// unit is the SI unit an expression comes out in.
func (e *expression) unit() (string, error) {
	switch e.op {
	case "number":
		return "1", nil
	case "code":
		u, ok := unitOfCode(e.name)
		if !ok {
			return "", fmt.Errorf("no result is called %q", e.name)
		}
		return u, nil
	case "call":
		return e.args[0].unit()
	}
	a, err := e.args[0].unit()
	if err != nil {
		return "", err
	}
	b, err := e.args[1].unit()
	if err != nil {
		return "", err
	}
	switch {
	case e.op == "/" && a == b:
		return "1", nil
	case (e.op == "/" || e.op == "*") && b == "1":
		return a, nil
	case e.op == "*" && a == "1":
		return b, nil
	case (e.op == "+" || e.op == "-") && a == b:
		return a, nil
	}
	return "", fmt.Errorf("%s and %s cannot be put together by %s", a, b, e.op)
}

// code is the first code of an expression: what it is about.
func (e *expression) code() string {
	if e.op == "code" {
		return e.name
	}
	for _, a := range e.args {
		if c := a.code(); c != "" {
			return c
		}
	}
	return ""
}

// mostDeep bounds how deep an expression may be. Chosen.
const mostDeep = 20

type reader struct{ rest string }

func (p *reader) skip() { p.rest = strings.TrimLeft(p.rest, " \t\n") }

func (p *reader) take(sign string) bool {
	p.skip()
	after, ok := strings.CutPrefix(p.rest, sign)
	if ok {
		p.rest = after
	}
	return ok
}

func (p *reader) sum(deep int) (*expression, error) {
	if deep > mostDeep {
		return nil, fmt.Errorf("is nested too deep")
	}
	left, err := p.product(deep)
	for err == nil {
		op := ""
		switch {
		case p.take("+ "):
			op = "+"
		case p.take("- "):
			op = "-"
		default:
			return left, nil
		}
		var right *expression
		if right, err = p.product(deep); err == nil {
			left = &expression{op: op, args: []*expression{left, right}}
		}
	}
	return nil, err
}

func (p *reader) product(deep int) (*expression, error) {
	left, err := p.single(deep)
	for err == nil {
		op := ""
		switch {
		case p.take("*"):
			op = "*"
		case p.take("/"):
			op = "/"
		default:
			return left, nil
		}
		var right *expression
		if right, err = p.single(deep); err == nil {
			left = &expression{op: op, args: []*expression{left, right}}
		}
	}
	return nil, err
}

func (p *reader) single(deep int) (*expression, error) {
	if p.take("(") {
		e, err := p.sum(deep + 1)
		if err == nil && !p.take(")") {
			err = fmt.Errorf("a bracket is not closed")
		}
		return e, err
	}
	p.skip()
	end := strings.IndexFunc(p.rest, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '.' })
	if end < 0 {
		end = len(p.rest)
	}
	word := p.rest[:end]
	p.rest = p.rest[end:]
	if word == "" {
		return nil, fmt.Errorf("enter a code, a number or a bracket before %q", p.rest)
	}
	if word[0] >= '0' && word[0] <= '9' {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, fmt.Errorf("%q is no number", word)
		}
		return &expression{op: "number", x: x}, nil
	}
	if slices.Contains(functions, word) && p.take("(") {
		e, err := p.sum(deep + 1)
		if err == nil && !p.take(")") {
			err = fmt.Errorf("the bracket of %s is not closed", word)
		}
		return &expression{op: "call", name: word, args: []*expression{e}}, err
	}
	e := &expression{op: "code", name: word}
	if strings.HasPrefix(p.rest, "[") {
		inside, rest, ok := strings.Cut(p.rest[1:], "]")
		if !ok {
			return nil, fmt.Errorf("a bracket [ is not closed")
		}
		p.rest = rest
		for one := range strings.SplitSeq(inside, ",") {
			if err := e.at.add(strings.TrimSpace(one)); err != nil {
				return nil, err
			}
		}
	}
	return e, nil
}

func (c *choice) add(word string) error {
	key, rest, _ := strings.Cut(word, " ")
	switch key {
	case "usual", "laden":
		c.load = key
	case "reference":
		c.reference = true
	case "bump", "rebound", "mean", "left", "right":
		c.direction = key
	case "roads":
		c.roads = true
	case "firmest", "softest":
		c.click = key
	case "click":
		if _, err := strconv.Atoi(rest); err != nil {
			return fmt.Errorf("%q is no click", word)
		}
		c.click = rest
	case "mode":
		c.mode = rest
	case "event":
		c.event = rest
	case "over":
		v, err := quantity.Parse(rest, quantity.Force)
		if err != nil {
			return err
		}
		c.threshold = v.Value
	default:
		v, err := quantity.Parse(word, quantity.SpeedDamper)
		if err != nil {
			return fmt.Errorf("%q chooses nothing", word)
		}
		c.velocity = v.Value
	}
	return nil
}

package intake

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
)

// Weighing is what was read in one round at the scales, and what was turned
// since the round before.
type Weighing struct {
	Line    int        // of its first reading
	Turned  [4]float64 // collars, up positive [-]
	Session scales.Session
}

// mostRounds and mostLine bound what is taken for a record of readings.
const (
	mostRounds = 100
	mostLine   = 10_000
)

// Scales reads what was typed or pasted from the scales: one thing a line, a
// word before a colon, four figures in the order front left, front right, rear
// left, rear right, each with its unit or with one unit behind the last; a dash
// for what was not read.
//
//	load: 431.8 464.7 327.3 321.2 kg
//	height: 350.1 345 357.9 355.1 mm
//	settled: yes
//	turned: -1/4 1/4 0 0
//
// A second load, with its height, is the car read again. A line of turns begins
// the next round. Load about and height about were read with the car turned
// about on the pads; pressed and lifted after it was pressed down or lifted and
// let go. Further words: pads, pressure, pad error, total, state, bars, clicks,
// settled. What stands behind a # is not read. The error names every line.
func Scales(r io.Reader) ([]Weighing, error) {
	in := reader{out: []Weighing{{Session: scales.NewSession()}}}
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, mostLine)
	for lines.Scan() {
		in.line++
		text, _, _ := strings.Cut(lines.Text(), "#")
		if strings.TrimSpace(text) == "" {
			continue
		}
		if err := in.take(text); err != nil {
			in.errs = append(in.errs, fmt.Errorf("line %d: %w", in.line, err))
			if len(in.errs) > 20 {
				break
			}
		}
	}
	if err := lines.Err(); err != nil {
		in.errs = append(in.errs, fmt.Errorf("line %d cannot be read: %w", in.line+1, err))
	}
	if len(in.errs) == 0 && in.out[len(in.out)-1].Line == 0 {
		in.errs = append(in.errs, errors.New("no reading stands behind the last turns, or none at all: load and height are due"))
	}
	return in.out, errors.Join(in.errs...)
}

type reader struct {
	out  []Weighing
	line int
	errs []error
}

func (in *reader) take(text string) error {
	word, rest, found := strings.Cut(text, ":")
	if !found {
		return fmt.Errorf("%q has no colon behind its word: load: 431.8 464.7 327.3 321.2 kg", cutShort(text))
	}
	word = strings.Join(strings.Fields(strings.ToLower(word)), " ")
	now := &in.out[len(in.out)-1]
	s := &now.Session
	switch word {
	case "load", "height", "load about", "height about", "load pressed", "height pressed", "load lifted", "height lifted":
		return in.reading(now, word, rest)
	case "turned":
		return in.turns(rest)
	case "pads":
		return four(rest, quantity.Length, &s.Pads, nil)
	case "pressure":
		return four(rest, quantity.Pressure, &s.Pressures, nil)
	case "pad error":
		return four(rest, quantity.Mass, &s.PadChange, nil)
	case "total":
		v, err := quantity.Parse(strings.TrimSpace(rest), quantity.Mass)
		s.Total = v.Value
		return err
	case "state":
		return tick(rest, "yes", "no", &s.AsStated)
	case "bars":
		return tick(rest, "off", "on", &s.BarsOff)
	case "clicks":
		return tick(rest, "soft", "hard", &s.Soft)
	case "settled":
		return tick(rest, "yes", "no", &s.Rolled)
	}
	return fmt.Errorf("%q is no word of a reading: load, height, turned, pads, pressure, pad error, total, state, bars, clicks, settled", cutShort(word))
}

// reading puts four loads or heights where their word says.
func (in *reader) reading(now *Weighing, word, rest string) error {
	s := &now.Session
	what, how, _ := strings.Cut(word, " ")
	to := func(r *scales.Reading) *[4]float64 {
		if what == "load" {
			return &r.Load
		}
		return &r.Height
	}
	kind := quantity.Mass
	if what == "height" {
		kind = quantity.Length
	}
	var v [4]float64
	if err := four(rest, kind, &v, &s.Mixed); err != nil {
		return err
	}
	if now.Line == 0 {
		now.Line = in.line
	}
	switch how {
	case "pressed":
		*to(&s.Pressed) = v
	case "lifted":
		*to(&s.Lifted) = v
	case "about":
		s.Reversed = put(s.Reversed, to, v)
	default:
		s.Settled = put(s.Settled, to, v)
	}
	return nil
}

// put fills the first reading that has none of these yet, or begins another.
func put(list []scales.Reading, to func(*scales.Reading) *[4]float64, v [4]float64) []scales.Reading {
	for k := range list {
		at := to(&list[k])
		if math.IsNaN(at[0]) && math.IsNaN(at[1]) && math.IsNaN(at[2]) && math.IsNaN(at[3]) {
			*at = v
			return list
		}
	}
	r := scales.Unread()
	*to(&r) = v
	return append(list, r)
}

func (in *reader) turns(rest string) error {
	if in.out[len(in.out)-1].Line == 0 {
		return errors.New("turns stand before any reading: what was read before them is due first")
	}
	if len(in.out) == mostRounds {
		return fmt.Errorf("more than %d rounds", mostRounds)
	}
	words := fields(rest)
	if last := len(words) - 1; last >= 0 && (words[last] == "turns" || words[last] == "turn") {
		words = words[:last]
	}
	if len(words) != 4 {
		return fmt.Errorf("%d turns stand where four are due", len(words))
	}
	next := Weighing{Session: scales.NewSession()}
	for i, w := range words {
		v, err := turn(w)
		if err != nil {
			return err
		}
		next.Turned[i] = v
	}
	in.out = append(in.out, next)
	return nil
}

// turn reads 1.5, -1/4 or 2+1/8.
func turn(word string) (float64, error) {
	fault := fmt.Errorf("%q is no number of turns: 1.5, -1/4 or 2+1/8", cutShort(word))
	whole, part, both := strings.Cut(word, "+")
	if both && whole != "" {
		a, err1 := turn(whole)
		b, err2 := turn(part)
		if err1 != nil || err2 != nil {
			return 0, fault
		}
		if strings.HasPrefix(whole, "-") {
			b = -b
		}
		return a + b, nil
	}
	top, bottom, fraction := strings.Cut(word, "/")
	v, err := strconv.ParseFloat(top, 64)
	if err == nil && fraction {
		var d float64
		d, err = strconv.ParseFloat(bottom, 64)
		v /= d
	}
	if err != nil || math.IsNaN(v) || math.Abs(v) > 100 {
		return 0, fault
	}
	return v, nil
}

func fields(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' || r == '\r' })
}

// four reads four figures. What stands without a unit takes that of the next
// figure that has one; mixed, where it is asked for, is set when two figures
// have different units.
func four(text string, kind quantity.Kind, out *[4]float64, mixed *bool) error {
	var numbers, units []string
	for _, w := range fields(text) {
		w = strings.TrimSuffix(w, ",")
		switch c := w; {
		case c == "":
		case c == "-" || strings.ContainsAny(c[:1], "0123456789.+-"):
			at := strings.IndexFunc(c, func(r rune) bool {
				return r > 127 || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '"' || r == '\''
			})
			unit := ""
			if at > 0 {
				c, unit = c[:at], c[at:]
			}
			numbers, units = append(numbers, c), append(units, unit)
		case len(numbers) == 0:
			return fmt.Errorf("%q stands before any figure", cutShort(w))
		case units[len(units)-1] != "":
			units[len(units)-1] += " " + w
		default:
			units[len(units)-1] = w
		}
	}
	if len(numbers) != 4 {
		return fmt.Errorf("%d figures stand where four are due: front left, front right, rear left, rear right; a dash for what was not read", len(numbers))
	}
	for i := 2; i >= 0; i-- {
		if units[i] == "" {
			units[i] = units[i+1]
		}
	}
	first := ""
	for i := range 4 {
		if numbers[i] == "-" {
			out[i] = math.NaN()
			continue
		}
		v, err := quantity.Parse(numbers[i]+" "+units[i], kind)
		if err != nil {
			return err
		}
		out[i] = v.Value
		if first != "" && v.Unit != first && mixed != nil {
			*mixed = true
		}
		first = v.Unit
	}
	return nil
}

func tick(text, yes, no string, out *scales.Answer) error {
	switch word := strings.ToLower(strings.TrimSpace(text)); word {
	case yes:
		*out = scales.Yes
	case no:
		*out = scales.No
	default:
		return fmt.Errorf("%q stands where %s or %s is due", cutShort(word), yes, no)
	}
	return nil
}

// cutShort keeps a message short.
func cutShort(text string) string {
	text = strings.TrimSpace(text)
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return text
}

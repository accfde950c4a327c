package intake

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"trunnion/shop/quantity"
)

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
// let go. Further words: pads, pressure, pad error, total (of the last weighing),
// total shown (by the scales themselves), state, bars, clicks, settled, confirmed (what
// looked odd was read again and is right), note. What stands behind a # is not read. The
// error names every line.
func Scales(r io.Reader) ([]Weighing, error) {
	list, err := ScalesTyped(r)
	var out []Weighing
	for k := range list {
		w, _ := list[k].Weigh() // every figure was tried when its line was read
		w.Line = list[k].Line
		if k == 0 {
			w.Turned = [4]float64{}
		}
		out = append(out, w)
	}
	return out, err
}

// RoundRead is a round as it stood in a record of readings.
type RoundRead struct {
	Line int // of its first reading
	RoundTyped
}

// ScalesTyped reads the same, and leaves every figure as it was typed.
func ScalesTyped(r io.Reader) ([]RoundRead, error) {
	in := reader{out: []RoundRead{{}}}
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
		in.errs = append(in.errs, errors.New("no readings, or none after the last turns: enter load and height"))
	}
	return in.out, errors.Join(in.errs...)
}

type reader struct {
	out  []RoundRead
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
	switch word {
	case "load", "height", "load about", "height about", "load pressed", "height pressed", "load lifted", "height lifted":
		return in.reading(now, word, rest)
	case "turned":
		return in.turns(rest)
	case "pads":
		return four(rest, quantity.Length, &now.PadLevels)
	case "pressure":
		return four(rest, quantity.Pressure, &now.Pressures)
	case "pad error":
		return four(rest, quantity.Mass, &now.PadErrors)
	case "total":
		return mass(rest, &now.LastTotal)
	case "total shown":
		return mass(rest, &now.Total)
	case "state":
		return tick(rest, "yes", "no", &now.AsStated)
	case "bars":
		return tick(rest, "off", "on", &now.BarsOff)
	case "clicks":
		return tick(rest, "soft", "hard", &now.ClicksSoft)
	case "settled":
		return tick(rest, "yes", "no", &now.Settled)
	case "confirmed":
		return tick(rest, "yes", "no", &now.Confirmed)
	case "note":
		now.Note = strings.TrimSpace(now.Note + " " + strings.TrimSpace(rest))
		return nil
	}
	return fmt.Errorf("%q is no word of a reading: load, height, turned, pads, pressure, pad error, total, total shown, state, bars, clicks, settled, confirmed, note", cutShort(word))
}

func mass(text string, out *string) error {
	text = strings.TrimSpace(text)
	_, err := figureOf(text, quantity.Mass)
	if err == nil {
		*out = text
	}
	return err
}

// reading puts four loads or heights where their word says.
func (in *reader) reading(now *RoundRead, word, rest string) error {
	what, how, _ := strings.Cut(word, " ")
	kind := quantity.Mass
	if what == "height" {
		kind = quantity.Length
	}
	var v []string
	if err := four(rest, kind, &v); err != nil {
		return err
	}
	if now.Line == 0 {
		now.Line = in.line
	}
	to := func(r **ReadingTyped) *[]string {
		if *r == nil {
			*r = &ReadingTyped{Loads: make([]string, 4), Heights: make([]string, 4)}
		}
		if what == "load" {
			return &(*r).Loads
		}
		return &(*r).Heights
	}
	switch how {
	case "pressed":
		*to(&now.Pressed) = v
	case "lifted":
		*to(&now.Lifted) = v
	case "about":
		*to(&now.Turned180) = v
	default:
		now.put(what, v)
	}
	return nil
}

// put fills the first reading that has none of these yet, or begins another.
func (r *RoundRead) put(what string, v []string) {
	if r.Loads == nil {
		r.Loads, r.Heights = make([]string, 4), make([]string, 4)
	}
	pick := func(loads, heights *[]string) *[]string {
		if what == "load" {
			return loads
		}
		return heights
	}
	empty := func(list []string) bool { return strings.Join(list, "") == "" }
	if to := pick(&r.Loads, &r.Heights); empty(*to) {
		*to = v
		return
	}
	for k := range r.Again {
		if to := pick(&r.Again[k].Loads, &r.Again[k].Heights); empty(*to) {
			*to = v
			return
		}
	}
	again := ReadingTyped{Loads: make([]string, 4), Heights: make([]string, 4)}
	*pick(&again.Loads, &again.Heights) = v
	r.Again = append(r.Again, again)
}

func (in *reader) turns(rest string) error {
	if in.out[len(in.out)-1].Line == 0 {
		return errors.New("turns stand before any reading: enter what was read before them first")
	}
	if len(in.out) == mostRounds {
		return fmt.Errorf("more than %d rounds", mostRounds)
	}
	words := fields(rest)
	if last := len(words) - 1; last >= 0 && (words[last] == "turns" || words[last] == "turn") {
		words = words[:last]
	}
	if len(words) != 4 {
		return fmt.Errorf("%d turns stand in place of four", len(words))
	}
	for _, w := range words {
		if _, err := Turns(w); err != nil {
			return err
		}
	}
	in.out = append(in.out, RoundRead{RoundTyped: RoundTyped{Turned: words}})
	return nil
}

func fields(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' || r == '\r' })
}

// four reads four figures as they were typed. What stands without a unit takes
// that of the next figure that has one.
func four(text string, kind quantity.Kind, out *[]string) error {
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
		return fmt.Errorf("%d figures stand in place of four: front left, front right, rear left, rear right; a dash for what was not read", len(numbers))
	}
	for i := 2; i >= 0; i-- {
		if units[i] == "" {
			units[i] = units[i+1]
		}
	}
	typed := make([]string, 4)
	for i := range 4 {
		if numbers[i] == "-" {
			continue
		}
		typed[i] = strings.TrimSpace(numbers[i] + " " + units[i])
		if _, err := figureOf(typed[i], kind); err != nil {
			return err
		}
	}
	*out = typed
	return nil
}

func tick(text, yes, no string, out *string) error {
	switch word := strings.ToLower(strings.TrimSpace(text)); word {
	case yes:
		*out = "yes"
	case no:
		*out = "no"
	default:
		return fmt.Errorf("%q is neither %s nor %s", cutShort(word), yes, no)
	}
	return nil
}

package jobfile

import (
	"errors"
	"math"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// originWords are the words that may stand before a number.
var originWords = map[string]figure.Origin{
	"est": figure.Estimated, "est.": figure.Estimated, "estimated": figure.Estimated,
	"maker": figure.Makers, "makers": figure.Makers, "maker's": figure.Makers,
	"measured": figure.Measured,
}

// cutOrigin takes the word off the front of a value.
func cutOrigin(s string) (origin figure.Origin, rest string) {
	s = strings.TrimSpace(s)
	word, rest, found := strings.Cut(s, " ")
	if o, ok := originWords[strings.ToLower(word)]; ok && found {
		return o, strings.TrimSpace(rest)
	}
	return "", s
}

// defaultBand reads a band of the table of keys, such as "± 3 %", for a value
// [SI].
func defaultBand(band string, of float64, kind quantity.Kind) (half float64, shape figure.Shape, err error) {
	if band == "" {
		return 0, figure.Exact, nil
	}
	shape = figure.Normal95
	rest, limit := strings.CutPrefix(band, "tol ")
	if limit {
		shape = figure.Limit
	}
	rest = strings.TrimSpace(strings.TrimPrefix(rest, "±"))
	if percent, ok := strings.CutSuffix(rest, "%"); ok && kind != quantity.Share {
		p, err := quantity.Parse(strings.TrimSpace(percent)+" %", quantity.Share)
		return math.Abs(of) * p.Value, shape, err
	}
	t, err := quantity.Parse(rest, kind)
	return t.Value, shape, err
}

// input makes an input of what was parsed. Its place is added by the reader.
func (s *shape) input(t quantity.Typed, origin figure.Origin, typed string) figure.Input {
	in := figure.Input{Value: t.Value, Half: t.Half, Origin: origin, Typed: typed}
	switch t.Shape {
	case quantity.Normal95:
		in.Shape = figure.Normal95
	case quantity.Limit:
		in.Shape = figure.Limit
	case quantity.None:
		s.giveBand(&in)
	}
	return in
}

// giveBand gives a value the usual band of its kind, and says so.
func (s *shape) giveBand(in *figure.Input) {
	band := s.bands[string(in.Origin)]
	half, shape, err := defaultBand(band, in.Value, s.kind)
	if err != nil || half == 0 {
		return
	}
	in.Half, in.Shape = half, shape
	in.Basis = "band " + band + ": common practice, no source"
}

// number reads the text of a value. The error is a quantity.Error.
func (s *shape) number(typed string) (figure.Input, error) {
	origin, rest := s.whose(typed)
	t, err := quantity.Parse(rest, s.kind)
	if err != nil {
		return figure.Input{}, err
	}
	return s.input(t, origin, typed), nil
}

func (s *shape) whose(typed string) (figure.Origin, string) {
	origin, rest := cutOrigin(typed)
	if origin == "" {
		origin = s.origin
	}
	return origin, rest
}

// numbers reads a value or a range of two ends.
func (s *shape) numbers(typed string) (from, to figure.Input, err error) {
	plain := strings.TrimSuffix(strings.TrimSpace(typed), " progressive") // as on many a box
	if plain != strings.TrimSpace(typed) {
		from, to, err = s.numbers(plain)
		from.Typed, to.Typed = typed, typed
		return from, to, err
	}
	if from, err = s.number(typed); err == nil {
		return from, figure.Input{}, nil
	}
	var fault *quantity.Error
	if !errors.As(err, &fault) || fault.Fault != quantity.BadRange {
		return figure.Input{}, figure.Input{}, err
	}
	origin, rest := s.whose(typed)
	low, high, err := quantity.ParseRange(rest, s.kind)
	if err != nil {
		return figure.Input{}, figure.Input{}, err
	}
	return s.input(low, origin, typed), s.input(high, origin, typed), nil
}

// bandAlone reads "± 0.5 mm".
func (s *shape) bandAlone(typed string) (figure.Input, error) {
	_, rest := cutOrigin(typed)
	shape := figure.Normal95
	if cut, ok := strings.CutPrefix(rest, "tol"); ok {
		rest, shape = strings.TrimSpace(cut), figure.Limit
	}
	for _, sign := range []string{"±", "+-", "+/-"} {
		rest = strings.TrimSpace(strings.TrimPrefix(rest, sign))
	}
	t, err := quantity.Parse(rest, s.kind)
	if err != nil {
		return figure.Input{}, err
	}
	if t.Value < 0 || t.Shape != quantity.None {
		return figure.Input{}, &quantity.Error{Fault: quantity.BadBand, Text: typed, Got: "this is not a band", Want: "enter a band like ± 0.5 mm"}
	}
	return figure.Input{Half: t.Value, Shape: shape, Origin: figure.Measured, Typed: typed}, nil
}

// row reads numbers whose unit stands behind the last, or behind each.
func (s *shape) row(items []string) ([]float64, int, error) {
	unit := ""
	if len(items) > 0 {
		last := strings.TrimSpace(items[len(items)-1])
		if _, err := quantity.Parse(last, s.kind); err == nil {
			unit = strings.TrimLeft(last, "+-−0123456789.,eE ")
			if unit == "" && strings.ContainsAny(last, "0123456789") {
				unit = ""
			}
		}
	}
	out := make([]float64, len(items))
	for i, item := range items {
		item = strings.TrimSpace(item)
		if unit != "" && bare(item) {
			item += " " + unit
		}
		t, err := quantity.Parse(item, s.kind)
		if err == nil && t.Shape != quantity.None {
			err = &quantity.Error{Fault: quantity.BadBand, Text: item, Got: "a row of numbers has no bands", Want: "give the band in a key of its own"}
		}
		if err != nil {
			return nil, i, err
		}
		out[i] = t.Value
	}
	return out, 0, nil
}

// bare reports a number without a unit.
func bare(item string) bool {
	return item != "" && strings.TrimLeft(item, "+-−0123456789.,") == ""
}

// splitRow takes "0 5 10 mm" or "0, 5, 10 mm" apart.
func splitRow(typed string) []string {
	var out []string
	for _, word := range strings.Fields(typed) {
		if word = strings.TrimSuffix(word, ","); word == "" {
			continue
		}
		if len(out) > 0 && strings.TrimLeft(word, "+-−0123456789.,eE") != "" {
			out[len(out)-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

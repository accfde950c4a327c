package main

import (
	"io"
	"strings"

	"github.com/rivo/uniseg"

	"trunnion/chassis/figure"
	"trunnion/shop/answer"
	"trunnion/shop/wording"
)

// printWorkings prints the workings of what is asked for: ids of values or
// workings, or result codes.
func printWorkings(w io.Writer, d *answer.Document, t *wording.Teller, asked []string) error {
	for _, ask := range asked {
		n := 0
		one := func(id string, v *figure.Value) {
			if n > 0 {
				say(w, "\n")
			}
			n++
			say(w, "%s\n", hung(id+"  ", wording.Name(v.Code)+", "+t.Place(v.Place)+": "+t.Value(v)))
			if v.Working == nil {
				say(w, "%s\n", hung("  ", noWorking(t, v)))
				return
			}
			writeWorking(w, t, v.Code, v.Working)
			for _, code := range v.Warnings {
				say(w, "%s\n", "  "+wrapped(wording.Note(code), lineWidth-2, "  "))
			}
		}
		if v, ok := d.Value(ask); ok {
			one(ask, v)
			continue
		}
		if work, ok := d.Working(ask); ok {
			say(w, "%s\n", ask)
			writeWorking(w, t, "", work)
			continue
		}
		d.All(func(id string, v *figure.Value) {
			if v.Code == ask {
				one(id, v)
			}
		})
		if _, known := figure.Look(ask); n == 0 && known {
			say(w, "%s: this answer has no such value\n", ask)
			continue
		}
		if n == 0 {
			return usage("there is no value, working or result code %q in this answer", ask)
		}
	}
	return nil
}

func noWorking(t *wording.Teller, v *figure.Value) string {
	if doubt := t.Doubt(v); doubt != "" {
		return "No working: " + doubt + "."
	}
	return "No working is kept of this value."
}

// writeWorking prints a working, those of its terms indented below them.
func writeWorking(w io.Writer, t *wording.Teller, code string, work *figure.Working) {
	all := t.Working(code, work)
	var symbols, figures int
	for i := range all {
		l := &all[i]
		symbols = max(symbols, uniseg.StringWidth(l.Symbol)+2*l.Depth)
		if l.Symbol != "" {
			figures = max(figures, uniseg.StringWidth(l.Figure))
		}
	}
	for i := range all {
		l := &all[i]
		indent := "  " + strings.Repeat("  ", l.Depth)
		switch {
		case l.Equation != "":
			line := indent + l.Equation + " = " + l.Figure
			source := "[" + l.Source + "]"
			if uniseg.StringWidth(line)+2+uniseg.StringWidth(source) > lineWidth {
				say(w, "%s\n", indent+wrapped(line[len(indent):], lineWidth-len(indent), indent+"    "))
				say(w, "%s\n", indent+"  "+wrapped(source, lineWidth-len(indent)-2, indent+"  "))
				continue
			}
			say(w, "%s\n", line+"  "+source)
		case l.Note != "":
			say(w, "%s\n", indent+wrapped(l.Note, lineWidth-len(indent), indent))
		default:
			head := "  " + padded(strings.Repeat("  ", l.Depth)+l.Symbol, symbols) + "  " + right(l.Figure, figures) + "  "
			say(w, "%s\n", head+wrapped(l.Name+" ("+l.Origin+")", max(24, lineWidth-uniseg.StringWidth(head)), strings.Repeat(" ", uniseg.StringWidth(head))))
		}
	}
}

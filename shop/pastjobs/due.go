package pastjobs

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
)

// Due is a car that should come, or should have come.
type Due struct {
	Job   string `json:"job"`
	Owner string `json:"owner"`
	Plate string `json:"plate"`
	Car   string `json:"car"`
	What  string `json:"what"`  // follow-up check, service, or what the handover says
	Date  string `json:"date"`  // 2026-12-01; empty where only kilometres are said
	After string `json:"after"` // distance or hours, in words
	Days  int    `json:"days" doc:"to go; negative when it is overdue"`
	Text  string `json:"text"`
}

// dueKind is what is kept of a job's newest revision for the list of cars that
// are due, and is derived from its text.
const dueKind = "due/1"

// DueOf reads what a job's handover says of coming back. A job without one has
// none.
func DueOf(text []byte) []Due {
	var out []Due
	if !bytes.Contains(text, []byte("handover")) {
		return nil // most jobs: not worth taking apart
	}
	at := map[string]string{}
	for _, f := range jobfile.Fields(text) {
		if strings.HasPrefix(f.Path, "handover.") || f.Path == "job.owner" || f.Path == "car.plate" || f.Path == "car.name" {
			at[f.Path] = strings.Join(strings.Fields(f.Typed), " ")
		}
	}
	for _, one := range []struct{ key, what string }{{"recheck", followUp}, {"service", "service"}} {
		d := Due{
			Owner: at["job.owner"], Plate: at["car.plate"], Car: at["car.name"], What: cmp.Or(at["handover."+one.key+".what"], one.what),
			Date: at["handover."+one.key+".date"], After: at["handover."+one.key+".after"],
		}
		if _, err := time.Parse(time.DateOnly, d.Date); err != nil {
			d.Date = ""
		}
		if d.Date == "" && d.After == "" {
			continue
		}
		d.What = one.what + say(d.What, one.what)
		out = append(out, d)
	}
	return out
}

func say(what, kind string) string {
	if what == "" || what == kind {
		return ""
	}
	return ": " + what
}

// DueList lists the cars that are due up to so many days from today, the most
// overdue first. A re-check that was done takes the one of the handover away, and
// names the next. Where only a distance is said, the car is listed without a
// date. Today is handed in.
func DueList(ctx context.Context, s *store.Store, today time.Time, days int) ([]Due, error) {
	notes, err := s.FindNotes(ctx, store.NoteQuery{Kind: store.RecheckNote})
	if err != nil {
		return nil, err
	}
	done := map[string]store.Note{}
	for _, n := range notes {
		done[n.Job] = n // the last one saved
	}
	texts, err := derivedOf(ctx, s, dueKind, func(_ store.Head, text []byte) (any, error) { return DueOf(text), nil })
	if err != nil {
		return nil, err
	}
	var out []Due
	for _, t := range texts {
		var list []Due
		if !t.into(&list) {
			continue
		}
		for _, d := range list {
			n, checked := done[t.head.ID]
			if checked && strings.HasPrefix(d.What, followUp) && !n.Saved.Before(t.head.SavedAt) {
				continue
			}
			d.Job = t.head.ID
			out = append(out, d)
		}
		if n, checked := done[t.head.ID]; checked && n.Recheck.Next != nil {
			next := n.Recheck.Next
			d := Due{Job: t.head.ID, Owner: t.head.Owner, Plate: t.head.Plate, Car: t.head.Car, What: followUp, Date: next.Date}
			if next.Km > 0 {
				d.After = fmt.Sprintf("%.0f km after the handover", next.Km)
			}
			if d.Date != "" || d.After != "" {
				out = append(out, d)
			}
		}
	}
	return soon(out, today, days), nil
}

// followUp is what a handover's recheck is called.
const followUp = "follow-up check"

// soon keeps what is due up to so many days from today.
func soon(list []Due, today time.Time, days int) []Due {
	day := time.Date(today.Year(), today.Month(), today.Day(), 0, 0, 0, 0, time.UTC)
	var out []Due
	for _, d := range list {
		who := joined(d.Owner, d.Car, d.Plate)
		switch {
		case d.Date == "":
			d.Days = days // unknown: after those that have a date
			d.Text = fmt.Sprintf("%s: %s after %s; no date is entered.", who, d.What, d.After)
		default:
			at, err := time.Parse(time.DateOnly, d.Date)
			if err != nil {
				continue
			}
			d.Days = int(at.Sub(day).Hours() / 24)
			if d.Days > days {
				continue
			}
			when := fmt.Sprintf("in %s", plural(d.Days, "day"))
			switch {
			case d.Days < 0:
				when = plural(-d.Days, "day") + " overdue"
			case d.Days == 0:
				when = "today"
			}
			d.Text = fmt.Sprintf("%s: %s on %s, %s", who, d.What, d.Date, when)
			if d.After != "" {
				d.Text += ", or after " + d.After
			}
			d.Text += "."
		}
		out = append(out, d)
	}
	slices.SortStableFunc(out, func(a, b Due) int {
		return cmp.Or(cmp.Compare(a.Days, b.Days), strings.Compare(a.Job, b.Job))
	})
	return out
}

package main

import (
	"context"
	"errors"
	"io"
	"strconv"
	"sync"

	"github.com/schollz/progressbar/v3"

	"trunnion/chassis/car"
	"trunnion/chassis/search"
	"trunnion/shop/desk"
	"trunnion/shop/queue"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

type searchCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	inUnits
	catalogue
	place
	desk.SearchAsk
}

// Run finds builds for the brief.
func (c *searchCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	if err := c.buy(ctx); err != nil {
		return err
	}
	leave, err := c.hand(ctx, s)
	if err != nil {
		return err
	}
	defer leave()
	system := c.system()
	tell, end := searching(s.err)
	c.Tell = tell
	got, err := asking().Search(ctx, job, c.SearchAsk)
	end()
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		return got.Document(version, system).WriteJSON(s.out)
	}
	printSearch(s.out, got.Teller(system))
	if len(got.Found.Gives) > 0 {
		return &status{code: exitNoAnswer}
	}
	return nil
}

// hand has the search computed in pieces that are kept, where a folder or a database is
// named: a search that was stopped goes on where it was, and others may help.
func (c *searchCommand) hand(ctx context.Context, s streams) (leave func(), err error) {
	if c.Data == "" && c.Postgres == "" {
		return func() {}, nil
	}
	where, err := c.where()
	if err != nil {
		return nil, err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion search"})
	var trouble *store.Trouble
	if errors.As(err, &trouble) && trouble.Kind == store.InUse {
		say(s.err, "note: %s. This search is computed here in one go, and nothing of it is kept\n", trouble.Error())
		return func() {}, nil
	}
	if err != nil {
		return nil, serving(err)
	}
	c.Hands = queue.New(kept, queue.Options{Program: queue.Program(version), Version: version, Here: true, Note: func(text string) { say(s.err, "note: %s\n", text) }})
	return func() {
		if err := kept.Close(); err != nil {
			say(s.err, "note: %v\n", err)
		}
	}, nil
}

// searching shows which step a search is at and how far, on a terminal only.
func searching(w io.Writer) (tell func(search.Progress), end func()) {
	if !terminal(w) {
		return nil, func() {}
	}
	var lock sync.Mutex
	bar := progressbar.NewOptions(1,
		progressbar.OptionSetWriter(w), progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(30),
		progressbar.OptionSetPredictTime(false), progressbar.OptionEnableColorCodes(false),
	)
	return func(p search.Progress) {
			lock.Lock()
			defer lock.Unlock()
			bar.Describe(wording.SearchStepName(p.Step))
			bar.ChangeMax(p.Total)
			_ = bar.Set(min(p.Done, p.Total-1)) // a bar that cannot be drawn stops nothing
		}, func() {
			_ = bar.Finish()
		}
}

// printSearch prints what was found.
func printSearch(w io.Writer, t *wording.Search) {
	f := t.Found
	line := func(text string) {
		if text != "" {
			say(w, "%s\n", wrapped(text, lineWidth, ""))
		}
	}
	line(t.SearchTitle(t.Build(t.From.ID)))
	if head, text := t.Blocked(); head != "" {
		say(w, "\n")
		line(head)
		line(text)
		say(w, "Give up one of these, smallest first:\n")
		for k := range f.Gives {
			g := &f.Gives[k]
			say(w, "%s\n", wrapped(string(rune('a'+k))+"  "+t.GiveSaid(g)+" "+many(g.Builds, "build", "builds")+" of those judged.", lineWidth, "   "))
		}
	}
	for k := range f.Plans {
		plan := &f.Plans[k]
		b := &f.Builds[plan.Build]
		say(w, "\n")
		line(strconv.Itoa(k+1) + "  " + wording.PlanName(plan) + ": " + t.Aim(search.Price, b.Figures[search.Price]) + ", " + t.Aim(search.Hours, b.Figures[search.Hours]) + " of work")
		line(t.PartsSaid(b.Build, car.Front))
		line(t.PartsSaid(b.Build, car.Rear))
		line(t.Heights(b))
		line("Why: " + wording.Lower(t.Why(plan)))
		for _, text := range t.GivesUp(plan) {
			line(text)
		}
		for _, text := range t.Room(b) {
			line(text)
		}
		for i := range b.Short {
			line("Short of: " + wording.Lower(t.ShortSaid(&b.Short[i])))
		}
	}
	say(w, "\nWhat must hold, and what each removes on its own\n")
	for k := range f.Removed {
		say(w, "  %s\n", t.SearchLimit(&f.Removed[k])+": "+wording.Removes(f.Removed[k].Share))
	}
	say(w, "\nFrom all that can be made to what was judged whole\n")
	for k := range f.Steps {
		name, came, held := wording.SearchStep(&f.Steps[k])
		say(w, "  %s: %s, %s\n", name, came, held)
	}
	say(w, "\n")
	line(t.SearchBasis())
}

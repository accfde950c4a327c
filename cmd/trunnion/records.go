package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"trunnion/shop/answer"
	"trunnion/shop/desk"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
)

type recordsCommand struct {
	place
	What   string `arg:"" enum:"due,come-backs,dampers,nearest,certifier" help:"What is asked for: ${enum}."`
	Job    string `arg:"" optional:"" help:"For nearest and certifier: a job file, or - for standard input."`
	Today  string `help:"The day it is, 2026-12-01; that of the machine without it." placeholder:"DATE"`
	Days   int    `default:"14" help:"For due: up to so many days from today."`
	Most   *int   `help:"For nearest: how many; 5 without it." placeholder:"N"`
	Build  string `help:"For certifier: the build, by id; else that of the handover." placeholder:"ID"`
	Load   string `help:"For certifier: the load state, by id; else the usual one." placeholder:"ID"`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}. csv is for certifier."`
	inUnits
}

// Run reads the workshop's own records back.
func (c *recordsCommand) Run(ctx context.Context, s streams) error {
	system := c.system()
	needsJob := c.What == "nearest" || c.What == "certifier"
	switch {
	case needsJob && c.Job == "":
		return usage("%s is about a job: name its file", c.What)
	case !needsJob && c.Job != "":
		return usage("%s is about all jobs: give no file", c.What)
	case c.Format == "csv" && c.What != "certifier":
		return usage("csv is for certifier")
	case c.Days < 0 || c.Days > 3660:
		return usage("--days is 0 to 3660")
	}
	if c.What == "certifier" {
		return c.certifier(ctx, s, system)
	}
	today, err := c.day()
	if err != nil {
		return err
	}
	where, err := c.where()
	if err != nil {
		return err
	}
	if !store.IsServer(where) {
		if info, err := os.Stat(where); err != nil || !info.IsDir() {
			return usage("there is no data folder %s", where)
		}
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion records"})
	if err != nil {
		return serving(err)
	}
	err = c.read(ctx, s, kept, today, system)
	if err = errors.Join(err, kept.Close()); err != nil {
		return serving(err)
	}
	return nil
}

func (c *recordsCommand) day() (time.Time, error) {
	if c.Today == "" {
		return time.Now(), nil
	}
	day, err := time.Parse(time.DateOnly, c.Today)
	if err != nil {
		return day, usage("--today is written 2026-12-01")
	}
	return day, nil
}

func (c *recordsCommand) read(ctx context.Context, s streams, kept *store.Store, today time.Time, system quantity.System) error {
	switch c.What {
	case "due":
		list, err := pastjobs.DueList(ctx, kept, today, c.Days)
		if err != nil {
			return err
		}
		return c.print(s.out, "trunnion.due/1", "due", list, func(out io.Writer) {
			for _, d := range list {
				say(out, "%s\n", wrapped(d.Text+" ("+d.Job+")", lineWidth, "  "))
			}
			if len(list) == 0 {
				say(out, "no service is due\n")
			}
		})
	case "dampers":
		notes, err := kept.FindNotes(ctx, store.NoteQuery{Kind: store.ServiceNote})
		if err != nil {
			return err
		}
		list := pastjobs.Dampers(notes, today)
		return c.print(s.out, "trunnion.dampers/1", "dampers", list, func(out io.Writer) {
			for _, d := range list {
				say(out, "%s\n", wrapped(d.Serial+", "+d.Verdict+": "+d.Text, lineWidth, "  "))
			}
			if len(list) == 0 {
				say(out, "no damper's hours were written down\n")
			}
		})
	case "come-backs":
		return c.comeBacks(ctx, s, kept)
	}
	text, err := readText(c.Job, s.in)
	if err != nil {
		return err
	}
	near, err := asking().Nearest(ctx, kept, text, "", c.Most, system)
	var ask *desk.AskError
	switch {
	case errors.As(err, &ask):
		return unanswered(ctx, err)
	case err != nil:
		return &status{exitNoAnswer, fmt.Errorf("%s: %w", nameOf(c.Job), err)}
	}
	return c.print(s.out, "trunnion.nearest/1", "nearest", near, func(out io.Writer) {
		if near.Of == 0 {
			say(out, "there is no other job on record\n")
		}
		for i, n := range near.Near {
			say(out, "%d. %s, build %s, %.1f away (%s)\n", i+1, n.Title, n.Build, n.Distance, n.ID)
			say(out, "   %s\n", wrapped("alike: "+strings.Join(n.Why, "; "), lineWidth-3, "   "))
			say(out, "   %s\n", wrapped("became: "+strings.Join(n.Became, "; "), lineWidth-3, "   "))
		}
		if near.Doubt != "" {
			say(out, "%s\n", near.Doubt)
		}
	})
}

func (c *recordsCommand) comeBacks(ctx context.Context, s streams, kept *store.Store) error {
	notes, err := kept.FindNotes(ctx, store.NoteQuery{Kind: store.ComeBackNote})
	if err != nil {
		return err
	}
	page, err := kept.Find(ctx, store.Query{Limit: 1})
	if err != nil {
		return err
	}
	got := pastjobs.CountComeBacks(notes, page.Total)
	return c.print(s.out, "trunnion.come-backs/1", "come_backs", got, func(out io.Writer) {
		say(out, "%s, from %s of the jobs on record\n", many(got.All, "return visit", "return visits"), quantity.Format(got.Share, quantity.Share, quantity.Metric, 1))
		for _, t := range []struct {
			title string
			list  []pastjobs.Count
		}{{"By cause", got.ByCause}, {"By the step that would have caught it", got.ByStep}, {"By part", got.Part}} {
			if len(t.list) == 0 {
				continue
			}
			say(out, "\n%s\n", t.title)
			for _, n := range t.list {
				say(out, "  %3d  %s\n", n.Times, joinText(n.What, strings.Join(n.Cost, " and "), hours(n.Hours)))
			}
		}
	})
}

func hours(h float64) string {
	if h == 0 {
		return ""
	}
	return fmt.Sprintf("%.1f h", h)
}

// print writes a document as JSON, or as the text that show writes.
func (c *recordsCommand) print(out io.Writer, format, key string, document any, show func(io.Writer)) error {
	if c.Format == "json" {
		return answer.WriteJSON(out, map[string]any{"format": format, key: document})
	}
	show(out)
	return nil
}

// certifier prints what somebody who is licensed to judge asks for.
func (c *recordsCommand) certifier(ctx context.Context, s streams, system quantity.System) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	pack, err := asking().Certifier(ctx, job, system, desk.CertifierAsk{Build: c.Build, Load: c.Load})
	if err != nil {
		return unanswered(ctx, err)
	}
	switch c.Format {
	case "json":
		return c.print(s.out, "trunnion.certifier/1", "pack", pack, nil)
	case "csv":
		return pack.WriteCSV(s.out)
	}
	return pack.WriteText(s.out)
}

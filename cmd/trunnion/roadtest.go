package main

import (
	"context"
	"errors"
	"path/filepath"
	"slices"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type roadTestCommand struct {
	Read    roadTestReadCommand    `cmd:"" help:"A log of a drive: its channels with grades, and what they show by themselves."`
	Compare roadTestCompareCommand `cmd:"" help:"A log beside the prediction of its build, and what would explain the difference."`
	Correct roadTestCorrectCommand `cmd:"" help:"Take corrections that a log speaks for into a copy of the job."`
}

// logFlags are what a log does not say.
type logFlags struct {
	Role    map[string]string `help:"What a channel is, by its heading or number: --role 'Pot 1=travel-front-left'." placeholder:"NAME=ROLE"`
	Unit    map[string]string `help:"Unit of a channel that names none: --unit 'Pot 1=mm'." placeholder:"NAME=UNIT"`
	Gain    map[string]string `help:"What one unit of the file is: --gain 'Pot 1=15 mm'; or a factor." placeholder:"NAME=GAIN"`
	Sign    map[string]string `help:"What is positive: --sign travel=bump, acceleration=up, lateral=left, or of one channel." placeholder:"NAME=WAY"`
	Zero    string            `enum:",rest,start,hanging" default:"" help:"Where travel is zero: rest, start (the log starts at rest) or hanging."`
	Rest    string            `help:"With --zero start: how long the car stands." placeholder:"TIME"`
	Along   string            `enum:",damper,wheel" default:"" help:"What travel is measured along: damper or wheel."`
	Rate    string            `help:"Sample rate, where the log has no time." placeholder:"FREQUENCY"`
	Decimal string            `enum:",point,comma" default:"" help:"Decimal sign: point or comma."`
	Mapping string            `help:"Answers as a JSON file; flags go before it." placeholder:"FILE"`
	inUnits
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
}

// mapping is what flags and file answer.
func (c *logFlags) mapping() (m intake.LogMapping, err error) {
	if err := readMapping(c.Mapping, &m); err != nil {
		return m, err
	}
	for _, one := range []struct {
		to   *string
		from string
	}{{&m.Zero, c.Zero}, {&m.Rest, c.Rest}, {&m.Along, c.Along}, {&m.Rate, c.Rate}, {&m.Decimal, c.Decimal}} {
		if one.from != "" {
			*one.to = one.from
		}
	}
	for _, one := range []struct {
		to   *map[string]string
		from map[string]string
	}{{&m.Roles, c.Role}, {&m.Units, c.Unit}, {&m.Gains, c.Gain}, {&m.Signs, c.Sign}} {
		for k, v := range one.from {
			if *one.to == nil {
				*one.to = map[string]string{}
			}
			(*one.to)[k] = v
		}
	}
	return m, nil
}

// into puts a file and what the flags say of it into an ask.
func (c *logFlags) into(ask *desk.LogAsk, path string) (err error) {
	if ask.Mapping, err = c.mapping(); err != nil {
		return err
	}
	data, err := readMost(path)
	if err != nil {
		return usage("%s cannot be read: %w", path, err)
	}
	ask.File = intake.SweepFile{Name: filepath.ToSlash(path), Data: data}
	return nil
}

// asks says what is asked of a log and what could not be read in it.
func asks(s streams, got *desk.LogRead) error {
	for _, f := range got.Faults {
		say(s.err, "%s\n", sweepFault(f))
	}
	for _, q := range got.Questions {
		say(s.err, "%s\n", wrapped(wording.LogQuestion(q.Code, q.About, q.Seen, q.Points, q.Choices), lineWidth, "  "))
	}
	switch {
	case len(got.Faults) > 0:
		return &status{exitFaults, errors.New("the log could not be read")}
	case len(got.Questions) > 0:
		return &status{exitUsage, errors.New("the log does not say this and nothing was taken for granted: answer and ask again")}
	}
	return nil
}

// begin reads a job and a log, says what the log leaves open, and shows how far the
// comparison is until end.
func (c *logFlags) begin(ctx context.Context, s streams, jobPath, logPath string, ask *desk.RoadTestAsk, done string) (job *jobfile.Job, end func(), err error) {
	if job, _, err = jobOrFaults(jobPath, s, done); err != nil {
		return nil, nil, err
	}
	if err := c.into(&ask.LogAsk, logPath); err != nil {
		return nil, nil, err
	}
	read, err := asking().RoadTestRead(ctx, ask.LogAsk)
	if err != nil {
		return nil, nil, unanswered(ctx, err)
	}
	if err := asks(s, read); err != nil {
		return nil, nil, err
	}
	ask.Progress, end = progress(s.err)
	return job, end, nil
}

type roadTestReadCommand struct {
	Log string `arg:"" help:"Log of a drive, as CSV."`
	desk.LogAsk
	logFlags
}

// Run reads a log.
func (c *roadTestReadCommand) Run(ctx context.Context, s streams) error {
	if err := c.into(&c.LogAsk, c.Log); err != nil {
		return err
	}
	got, err := asking().RoadTestRead(ctx, c.LogAsk)
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		return errors.Join(got.Document(version).WriteJSON(s.out), asks(s, got))
	}
	if err := asks(s, got); err != nil {
		return err
	}
	printLog(s, got, wording.New(nil, c.system()))
	return nil
}

// printLog prints channels with grades and what travel shows.
func printLog(s streams, got *desk.LogRead, tell *wording.Teller) {
	t := table{gap: 2}
	t.row("Channel", "Rate", "Floor", "Grade", "Found")
	for i := range got.Log.Channels {
		ch, g := &got.Log.Channels[i], &got.Grades[i]
		floor, found := "", ""
		if g.Floor > 0 {
			floor = tell.Shaft(g.Floor)
		}
		for k, f := range g.Found {
			if k > 0 {
				found += "; "
			}
			found += tell.Defect(ch.Role, f)
		}
		t.row(wording.ChannelName(ch.Role, ch.Corner), tell.Amount("", "Hz", ch.Rate), floor, wording.Mark(g.Mark), found)
	}
	t.write(s.out, lineWidth)
	if len(got.Alone) > 0 {
		say(s.out, "\n%s\n", wording.LogAlone)
		t = table{gap: 2}
		t.row("Corner", "Bump", "Rebound", "Mean", "Below "+tell.Shaft(got.Marks.Low), "Above "+tell.Shaft(got.Marks.High)+", bump", "rebound", "Frequency")
		for _, a := range got.Alone {
			t.row(wording.Upper(wording.Corner(a.Corner)), tell.Amount("", "m", a.Bump), tell.Amount("", "m", a.Rebound), tell.Amount("", "m", a.Mean),
				wording.PerCent(a.Below), wording.PerCent(a.AboveB), wording.PerCent(a.AboveR), tell.Amount("", "Hz", a.BodyRate))
		}
		t.write(s.out, lineWidth)
	}
	for _, a := range got.Assumptions {
		say(s.out, "%s\n", wrapped(wording.LogAssumed(a.Code, a.About, a.Value), lineWidth, "  "))
	}
}

type roadTestCompareCommand struct {
	Job string `arg:"" help:"Job file, or - for standard input."`
	Log string `arg:"" help:"Log of a drive, as CSV."`
	desk.RoadTestAsk
	logFlags
}

// Run holds a log against its prediction.
func (c *roadTestCompareCommand) Run(ctx context.Context, s streams) error {
	job, end, err := c.begin(ctx, s, c.Job, c.Log, &c.RoadTestAsk, "nothing was compared")
	if err != nil {
		return err
	}
	got, err := asking().RoadTest(ctx, job, c.RoadTestAsk)
	end()
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		return got.Document(version).WriteJSON(s.out)
	}
	printTest(s, got, wording.OfJob(job.Builds, job.Loads, c.system()))
	return nil
}

// printTest prints the headline, what lies outside, the road, and what would explain it.
func printTest(s streams, got *desk.RoadTested, tell *wording.Teller) {
	para := func(text string) { say(s.out, "%s\n", wrapped(text, lineWidth, "")) }
	outside := got.Outside()
	para(tell.TestHeadline(got.Outcome, outside, got.Read.Marks))
	for i := range got.Wrong {
		para(tell.Wrong(&got.Wrong[i]))
	}
	if len(got.Figures) == 0 {
		return
	}
	t := table{gap: 2}
	say(s.out, "\n")
	t.row("Figure", "Corner", "Measured", "Predicted", "")
	figures := slices.Clone(outside)
	for _, f := range got.Figures {
		if !f.Outside {
			figures = append(figures, f)
		}
	}
	for i := range figures {
		f := &figures[i]
		word := ""
		if f.Outside {
			word = "outside"
		}
		t.row(tell.TestCode(f.Code, got.Read.Marks), wording.Corner(f.Corner), tell.TestFigure(f.Code, f.Measured), tell.TestPredicted(f), word)
	}
	t.write(s.out, lineWidth)
	say(s.out, "\n%s\n", wording.TestRoads)
	t = table{gap: 2}
	metre, _ := quantity.Find("m", quantity.Length)
	road, _ := quantity.Find("km/h", quantity.SpeedRoad)
	for _, r := range got.Stretches {
		t.row("from "+tell.Amount("", "s", r.Start), metre.Format(r.Length, 0), road.Format(r.Speed, 0), wording.RoadClass(r.Class, r.Roughness, r.Low, r.High))
	}
	t.write(s.out, lineWidth)
	printOffers(s, got, tell)
	para(wording.TestNote)
}

// printOffers prints what would explain the difference.
func printOffers(s streams, got *desk.RoadTested, tell *wording.Teller) {
	say(s.out, "\n%s\n", wording.TestExplains)
	if len(got.Corrections) == 0 {
		say(s.out, "%s\n\n", wording.NoCorrection)
		return
	}
	for i := range got.Corrections {
		c := &got.Corrections[i]
		say(s.out, "%d. %s %s: %s; explains %d of %d\n", i+1, wording.Upper(wording.InputName(c.Offer.Name)), wording.Corner(c.Offer.Corner), tell.Offer(c.Offer), len(c.Offer.Explains), len(got.Outside()))
		say(s.out, "%s\n", "   "+wrapped(wording.OfferWhy(c.Offer), lineWidth-3, "   "))
		if text := wording.NotApart(c.Offer); text != "" {
			say(s.out, "%s\n", "   "+wrapped(text, lineWidth-3, "   "))
		}
		if c.Unable != "" {
			say(s.out, "   %s\n", wording.CannotType(c.Unable))
		} else {
			say(s.out, "   --take %s\n", c.Name)
		}
	}
	say(s.out, "\n")
}

type roadTestCorrectCommand struct {
	Job string `arg:"" help:"Job file; it stays as it is."`
	Log string `arg:"" help:"Log of a drive, as CSV."`
	Out string `help:"File for the job with the corrections." placeholder:"FILE"`
	outFile
	desk.RoadTestAsk
	logFlags
}

// Run takes corrections into a copy of a job.
func (c *roadTestCorrectCommand) Run(ctx context.Context, s streams) error {
	job, end, err := c.begin(ctx, s, c.Job, c.Log, &c.RoadTestAsk, "nothing was corrected")
	if err != nil {
		return err
	}
	got, err := asking().RoadTestCorrect(ctx, job, c.RoadTestAsk)
	end()
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Out != "" {
		if err := c.write(c.Out, got.Text, c.Job, c.Log); err != nil {
			return err
		}
	}
	if c.Format == "json" {
		return got.Document(version).WriteJSON(s.out)
	}
	tell := wording.OfJob(job.Builds, job.Loads, c.system())
	for _, x := range got.Taken {
		say(s.out, "%s %s: %s\n", wording.Upper(wording.InputName(x.Offer.Name)), wording.Corner(x.Offer.Corner), tell.Offer(x.Offer))
		for _, e := range x.Edits {
			say(s.out, "  %s: %s\n", e.Path, *e.Value)
		}
	}
	say(s.out, "\n%s\n", wording.TestEffects)
	before, after := wording.New(got.Before.Answer, c.system()), wording.New(got.After.Answer, c.system())
	for _, x := range got.Changes {
		say(s.out, "%s\n", wrapped(wording.TestChange(before, after, x.Before, x.After), lineWidth, "  "))
	}
	if len(got.Changes) == 0 {
		say(s.out, "%s\n", wording.NoFindingChanges)
	}
	if c.Out == "" {
		say(s.out, "\n%s\n", wording.CorrectionUnsaved)
	}
	return nil
}

// Command trunnion answers a workshop's job at the command line: it reads a job
// file, puts every build through the same study, and prints what it found. See
// trunnion --help.
//
// Flags and wiring stand here, one command a file; figures come from chassis,
// sentences from shop/wording, and the documents from shop/answer.
package main

import (
	"context"
	"errors"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/alecthomas/kong"
)

type commands struct {
	New        newCommand        `cmd:"" help:"Write a job of what was told on the telephone, or of a typical car of its kind."`
	Serve      serveCommand      `cmd:"" help:"Serve the workshop's page on this machine."`
	Assess     assessCommand     `cmd:"" help:"Assess a job: every build side by side, worst findings first."`
	Ride       rideCommand       `cmd:"" help:"Drive the builds over a road or an obstacle, side by side."`
	Corner     cornerCommand     `cmd:"" help:"Take the builds round a corner: roll, loads, stops met, and how steady they are at speed."`
	Level      levelCommand      `cmd:"" help:"Say which collars to turn on the scales, which way and how far."`
	Linkage    linkageCommand    `cmd:"" help:"Move an axle's linkage: ratios, camber, toe, roll centre, and what a change does."`
	Loads      loadsCommand      `cmd:"" help:"Forces in each build's strut: side load, bending, friction, side by side."`
	Search     searchCommand     `cmd:"" help:"Find builds for the brief: parts, heights and clicks, in three plans."`
	Work       workCommand       `cmd:"" help:"Compute pieces of searches that others ask for in one database, on this machine."`
	Symptom    symptomCommand    `cmd:"" help:"What may be behind what an owner says, and what to look at and change first."`
	Damper     damperCommand     `cmd:"" help:"Dampers: sweeps from the dyno, pairs, and what each click is worth on the car."`
	Catalogue  catalogueCommand  `cmd:"" help:"Take a maker's list of parts into the workshop's catalogue, or write the catalogue as a list."`
	RoadTest   roadTestCommand   `cmd:"" name:"roadtest" help:"Road test: a log of a drive beside its prediction, and corrections of the model."`
	Measure    measureCommand    `cmd:"" help:"Write what a job still lacks as a sheet to write on at the car, in the order of work."`
	Sheet      sheetCommand      `cmd:"" help:"Write what the owner takes home: before and after, settings, checks, on one or two pages."`
	History    historyCommand    `cmd:"" help:"What was changed on a car, and how to restore it."`
	Records    recordsCommand    `cmd:"" help:"Services due, return visits, damper hours, cars like this one, and the certifier's figures."`
	Check      checkCommand      `cmd:"" help:"Check a job file and list all its faults at once."`
	Schema     schemaCommand     `cmd:"" help:"Print the JSON Schema of the job file."`
	Explain    explainCommand    `cmd:"" help:"Explain a result or finding code, or list them all."`
	Demo       demoCommand       `cmd:"" help:"Write the example jobs into a folder."`
	Person     personCommand     `cmd:"" help:"Add somebody of the workshop, or change a role or passphrase."`
	Backup     backupCommand     `cmd:"" help:"Write everything into one backup file."`
	Restore    restoreCommand    `cmd:"" help:"Go back to a backup."`
	Reindex    reindexCommand    `cmd:"" help:"Make what is searched anew from the jobs' texts."`
	Version    versionCommand    `cmd:"" help:"Print the version."`
	Completion completionCommand `cmd:"" help:"Print completions for a shell."`
}

func main() {
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// run is the whole program but for the process around it.
func run(args []string, s streams) (code int) {
	out := &paper{to: s.out}
	s.out = out
	defer func() {
		if code == exitAnswered && out.err != nil {
			say(s.err, "trunnion: the output was not written: %v\n", out.err)
			code = exitBroken
		}
	}()
	defer func() {
		if broken := recover(); broken != nil {
			say(s.err, "trunnion: the program is broken here; your files are as they were: %v\n%s", broken, debug.Stack())
			code = exitBroken
		}
	}()
	var cli commands
	exited := -1
	parser, err := kong.New(&cli,
		kong.Name("trunnion"),
		kong.Description("What a car will do with each proposed suspension build, before anybody orders it."),
		kong.Writers(s.out, s.err),
		kong.Exit(func(code int) { exited = code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.UsageOnError(),
	)
	if err != nil {
		say(s.err, "trunnion: %v\n", err)
		return exitBroken
	}
	if len(args) == 0 {
		args = bare(doubleClicked())
	}
	ctx, err := parser.Parse(args)
	if exited >= 0 {
		return exited
	}
	if err != nil {
		say(s.err, "trunnion: %v\nTry: trunnion --help\n", err)
		return exitUsage
	}
	stop, release := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer release()
	ctx.BindTo(stop, (*context.Context)(nil))
	err = ctx.Run(s, parser)
	var st *status
	switch {
	case err == nil:
		return exitAnswered
	case stop.Err() != nil && errors.Is(err, context.Canceled):
		say(s.err, "%s\n", "trunnion: stopped; nothing was written")
		return exitStopped
	case errors.As(err, &st):
		if st.err != nil {
			say(s.err, "trunnion: %v\n", st.err)
		}
		return st.code
	}
	say(s.err, "trunnion: %v\n", err)
	return exitBroken
}

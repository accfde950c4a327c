package main

import (
	"errors"
	"time"

	"trunnion/shop/jobfile"
)

type newCommand struct {
	Typical string `help:"Kind of car whose figures stand in for what is not told, each marked as an estimate; see --kinds." placeholder:"KIND"`
	Kinds   bool   `help:"List the kinds of car, with their figures."`
	Out     string `help:"File to write; else it is printed." placeholder:"FILE"`
	outFile

	Number         string `help:"The job's number." group:"Told"`
	Owner          string `help:"Whose car." group:"Told"`
	Car            string `help:"Maker, model, body." group:"Told"`
	Plate          string `help:"Number plate." group:"Told"`
	Wheelbase      string `help:"As 2700mm or 106in." group:"Told"`
	Track          string `help:"Mean of both axles." group:"Told"`
	LoadFrontLeft  string `help:"On the scales, empty, half a tank." group:"Told"`
	LoadFrontRight string `group:"Told"`
	LoadRearLeft   string `group:"Told"`
	LoadRearRight  string `group:"Told"`
	ArchFront      string `help:"Hub to arch." group:"Told"`
	ArchRear       string `group:"Told"`
	SpringFront    string `help:"Rate, and free length if it is known: \"25 N/mm, 361 mm free\"." group:"Told"`
	SpringRear     string `group:"Told"`
	LowerFront     string `help:"By how much it is to stand lower." group:"Told"`
	LowerRear      string `group:"Told"`
}

// Run writes a job as the page does from the same figures.
func (c *newCommand) Run(s streams) error {
	if c.Kinds {
		c.list(s)
		return nil
	}
	told := jobfile.Told{
		Number: c.Number, Date: time.Now().Format(time.DateOnly), Owner: c.Owner, Car: c.Car, Plate: c.Plate, Wheelbase: c.Wheelbase, Track: c.Track,
		LoadFrontLeft: c.LoadFrontLeft, LoadFrontRight: c.LoadFrontRight, LoadRearLeft: c.LoadRearLeft, LoadRearRight: c.LoadRearRight,
		ArchFront: c.ArchFront, ArchRear: c.ArchRear, SpringFront: c.SpringFront, SpringRear: c.SpringRear, LowerFront: c.LowerFront, LowerRear: c.LowerRear,
	}
	if c.Typical != "" {
		typical, err := jobfile.FindTypical(c.Typical)
		if err != nil {
			return usage("--typical: %w", err)
		}
		told.Fill(&typical)
	}
	text, faults := told.Text()
	if len(faults) > 0 {
		var all []error
		for i := range faults {
			all = append(all, errors.New(faults[i].Location+": "+faults[i].Want))
		}
		return usage("%w", errors.Join(all...))
	}
	if c.Out == "" {
		say(s.out, "%s", text)
		return nil
	}
	return c.write(c.Out, text)
}

func (c *newCommand) list(s streams) {
	tab := table{gap: 2}
	tab.row("kind", "", "front left", "rear left", "front spring", "rear spring")
	for _, t := range jobfile.Typicals() {
		f := t.Told()
		tab.row(t.ID, t.Name, f.LoadFrontLeft, f.LoadRearLeft, f.SpringFront, f.SpringRear)
	}
	tab.write(s.out, 0)
	if all := jobfile.Typicals(); len(all) > 0 {
		say(s.out, "%s\n", all[0].Says)
	}
}

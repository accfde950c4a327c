package scales

import (
	"fmt"
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// work shows the order of work and what to mind in it.
func (st *Session) work(v *View) {
	l := st.Result
	p := l.Plan
	if l.Stopped {
		p = nil
	}
	for _, x := range scales.Order(p) {
		step := Step{Text: wording.ScalesStep(x.Code), Caution: len(x.Cautions) > 0, Now: x.Now, Again: x.Again}
		var mind []string
		for _, c := range x.Cautions {
			mind = append(mind, wording.ScalesMind(c))
		}
		if step.Mind = strings.Join(mind, "; "); step.Mind != "" {
			step.Text += ": " + step.Mind
		}
		v.Order = append(v.Order, step)
	}
	for _, code := range l.Reopened() {
		v.Reopened = append(v.Reopened, wording.ScalesReopened(code))
	}
	for _, code := range l.Opened() {
		v.Opened = append(v.Opened, wording.ScalesReopened(code))
	}
	if p != nil && p.Turn {
		for _, code := range []string{"stands-before-hands", "spring-under-load", "count-turns", "lock-collar"} {
			v.Cautions = append(v.Cautions, sentence(wording.ScalesMind(code)))
		}
	}
	other := 0
	for _, r := range st.History.Standing() {
		if r.Load != st.Load {
			other++
		}
	}
	if other > 0 {
		v.Cautions = append(v.Cautions, fmt.Sprintf("%d of the rounds were read in another load state: their readings are not counted here, their turns are.", other))
	}
	if len(st.Of) > 0 && st.Of[0] == nil && !(st.Drafted && len(st.Of) == 1) {
		v.Cautions = append(v.Cautions, "It begins with the readings that the job holds of this build.")
	}
	v.Cautions = append(v.Cautions, "It says what scales and tape will show, and nothing about whether the car is safe or legal.")
}

func sentence(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// keep shows what writes the last good round into the job.
func (st *Session) keep(v *View) {
	l := st.Result
	k := l.LastGood()
	switch {
	case k < 0:
		v.Keep.Says = "No round stands that could be kept in the job."
		return
	case st.Of[k] == nil && st.Drafted && k == len(st.Of)-1:
		v.Keep.Says = "The round that is being typed has to be kept first."
		return
	case st.Of[k] == nil:
		v.Keep.Says = "The job holds these readings already."
		return
	}
	digits := 2
	if st.system == quantity.Imperial {
		digits = 4
	}
	length := func(x float64) string { return quantity.Format(x, quantity.Length, st.system, digits) }
	mass := func(x float64) string { return quantity.Format(x, quantity.Mass, st.system, 2) }
	list := l.Keep(st.Job.Text, length, mass, &st.Of[k].Round)
	for _, p := range list {
		e := jobfile.Edit{Path: p.Path}
		if !p.Out {
			value := p.Value
			e.Value = &value
		}
		v.Keep.Edits = append(v.Keep.Edits, e)
	}
	v.Keep.Says = fmt.Sprintf("Writes round %d into the job: four loads, four heights and where the collars stand.", st.Of[k].Number)
	if len(list) == 0 {
		v.Keep.Says = fmt.Sprintf("The job holds round %d already.", st.Of[k].Number)
	}
}

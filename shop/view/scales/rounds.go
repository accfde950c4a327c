package scales

import (
	"math"
	"slices"

	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

func (st *Session) kept(v *View) {
	for _, p := range st.History.Rounds {
		r := Round{
			ID: p.ID, Number: p.Number, Taken: view.When(p.Taken), Saved: view.When(p.Saved), Who: p.Who, Load: p.Load, Note: p.Round.Note,
			Loads: four(p.Round.Loads), Heights: four(p.Round.Heights), Turned: make([]string, 4), Cross: quantity.Nothing, Verdict: string(scales.Caution), Round: p.Round,
		}
		r.Round.Loads, r.Round.Heights = r.Loads, r.Heights
		typed := four(p.Round.Turned)
		for i := range 4 {
			switch {
			case typed[i] != "" || math.IsNaN(p.Turns[i]):
				r.Turned[i] = typed[i]
			case p.Turns[i] != 0:
				r.Turned[i] = "as asked: " + wording.SignedTurns(p.Turns[i], st.Rig.Adjuster[i].Step)
			}
		}
		w, _ := p.Round.Weigh()
		if got := w.Session.Reading(); got.Complete() {
			r.Cross = st.teller.Amount("front-share", "1", got.Cross(st.Target.Diagonal))
		}
		if p.Withdrawn != nil {
			r.Withdrawn = &Withdrawn{Who: p.Withdrawn.Who, When: view.When(p.Withdrawn.When), Why: p.Withdrawn.Why}
		}
		if st.Result != nil {
			if k := slices.Index(st.Of, p); k >= 0 && k < len(st.Result.Gates) {
				r.Verdict = string(st.Result.Gates[k].Verdict)
			}
		}
		v.Rounds = append(v.Rounds, r)
	}
}

// four makes a list of four of what may be shorter.
func four(list []string) []string {
	out := make([]string, 4)
	copy(out, list)
	return out
}

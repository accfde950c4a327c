package finding

import "testing"

// otherOver returns the finding of another rule over the same figure.
func otherOver(list []Finding, f *Finding) *Finding {
	for i := range list {
		if g := &list[i]; g.Code != f.Code && g.Value == f.Value && cornerRule(g.Code) != nil {
			return g
		}
	}
	return nil
}

// A figure of a corner judged on its own is judged as in the whole judgement, and
// only where that looks: in a bend, at the highest speed, in the usual load state.
func TestCornerValueOnItsOwn(t *testing.T) {
	a := answer(t, 200, 2)
	list := judged(t, a)
	n := 0
	for i := range list {
		f := &list[i]
		if cornerRule(f.Code) == nil {
			continue
		}
		n++
		verdict, limit := One(a, f.Value)
		if other := otherOver(list, f); other != nil {
			// Two rules look at one code: the graver verdict counts.
			if verdict.grade() != min(f.Verdict.grade(), other.Verdict.grade()) {
				t.Errorf("%s of %s: %s, in the judgement %s and %s", f.Code, f.Value.Place.Build, verdict, f.Verdict, other.Verdict)
			}
			continue
		}
		if verdict != f.Verdict || (limit == nil) != (f.Limit == nil) || limit != nil && limit.Value != f.Limit.Value {
			t.Errorf("%s of %s: %s by %+v, in the judgement %s by %+v", f.Code, f.Value.Place.Build, verdict, limit, f.Verdict, f.Limit)
		}
	}
	if n < 6 {
		t.Fatalf("only %d findings of corners", n)
	}
	others := 0
	for i := range a.Values {
		v := &a.Values[i]
		if v.Code == "understeer-gradient" && v.Place.Mode == "straight-ahead" || v.Code == "yaw-damping" && v.Place.Speed < 20 {
			others++
			if verdict, _ := One(a, v); verdict != NoLimit {
				t.Errorf("%+v is judged %s", v.Place, verdict)
			}
		}
	}
	if others == 0 {
		t.Fatal("no other figures of corners")
	}
}

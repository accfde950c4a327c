package remedy

import (
	"context"
	"slices"
	"sort"

	"trunnion/chassis/change"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// How far an axle is raised to see what is gone, how many findings have to be for
// it to be said, and the chance from which one counts. Chosen.
const (
	highest = 60e-3 // [m]
	several = 3
	counts  = 0.2
	further = 3 // steps past the height at which what is at rest is gone
)

// tooLow looks at each axle standing higher, step by step, and says where most of
// its findings are gone.
func (r *review) tooLow(ctx context.Context, was map[row]*finding.Finding) ([]TooLow, error) {
	var out []TooLow
	for axle := range 2 {
		var of []row
		for k, f := range was {
			if k.axle == axle && !quiet(f) && !finding.NoPartChanges(k.code) {
				of = append(of, k)
			}
		}
		if len(of) < several {
			continue
		}
		sort.Slice(of, func(i, j int) bool {
			if a, b := finding.Hardness(of[i].code), finding.Hardness(of[j].code); a != b {
				return a < b
			}
			return of[i].code < of[j].code
		})
		one := TooLow{Axle: axle, Of: len(of)}
		least, most := 0, -1
		for n := 1; float64(n)*change.HeightStep <= highest+1e-9; n++ {
			rest, _, err := r.gone(ctx, axle, float64(n)*change.HeightStep, of, false)
			if err != nil {
				return nil, err
			}
			if len(rest) > most {
				least, most = n, len(rest)
			}
		}
		// Drives and corners cost: they are looked at from where the rest is gone.
		for n := max(least, 1); n <= least+further && float64(n)*change.HeightStep <= highest+1e-9; n++ {
			gone, got, err := r.gone(ctx, axle, float64(n)*change.HeightStep, of, true)
			if err != nil {
				return nil, err
			}
			if len(gone) > len(one.Codes) {
				one.Codes, one.Higher = gone, float64(n)*change.HeightStep
				one.Height = height(got, r.build.ID, r.a.Job.Loads[r.usual].ID, axle)
			}
			if len(gone) == len(of) {
				break
			}
		}
		if len(one.Codes) >= several {
			out = append(out, one)
		}
	}
	return out, nil
}

// quiet reports a row that is not over, and not likely.
func quiet(f *finding.Finding) bool {
	return f == nil || !f.Loud() || f.Verdict != finding.Over && f.Probability < counts
}

// gone are those of some rows that are quiet where an axle stands higher; those
// that are driven or cornered only where that is asked for.
func (r *review) gone(ctx context.Context, axle int, n float64, of []row, dear bool) (codes []string, got *study.Answer, err error) {
	higher := r.bench.Stood(axle, n)
	if got, err = r.a.Again(ctx, higher, r.a.Job.Loads, 0); err != nil {
		return nil, nil, ctx.Err()
	}
	rows := lookOf(finding.Every(got, r.a, r.build.ID, r.bands.Of)).rows()
	was := r.was.rows()
	costs := func(k row) bool { return needsCorners(k.code) || was[k].Value.Tier == figure.Time }
	if dear {
		var over []from
		corners := false
		for _, k := range of {
			corners = corners || needsCorners(k.code)
			if d := r.driveOf(&was[k].Value.Place); was[k].Value.Tier == figure.Time && d != nil && !slices.Contains(over, d[0]) {
				over = append(over, d[0])
			}
		}
		drove, err := r.driven(ctx, got, over, 1)
		if err != nil {
			return nil, nil, err
		}
		for k, f := range drove.rows() {
			rows[k] = f
		}
		if corners {
			l, err := r.corners(ctx, higher)
			if err != nil {
				return nil, nil, err
			}
			for k, f := range l.rows() {
				if needsCorners(k.code) {
					rows[k] = f
				}
			}
		}
	}
	for _, k := range of {
		if costs(k) && (!dear || rows[k] == nil) {
			continue
		}
		if quiet(rows[k]) {
			codes = append(codes, k.code)
		}
	}
	return codes, got, nil
}

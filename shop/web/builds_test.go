package web

import (
	"context"
	"testing"

	"trunnion/shop/view"
	"trunnion/shop/view/builds"
)

// tryBuilds are the builds of a job side by side, as the page has them.
func tryBuilds(d *view.Desk, req view.TryRequest) (*builds.View, error) {
	t, err := d.Compared(context.Background(), &req, nil)
	if err != nil {
		return nil, err
	}
	return builds.Of(context.Background(), t)
}

func shownBuilds(tb testing.TB, d *view.Desk, req view.TryRequest) *builds.View {
	tb.Helper()
	v, err := tryBuilds(d, req)
	if err != nil {
		tb.Fatal(err)
	}
	return v
}

func rowWith(v *builds.View, code string) *builds.Row {
	for i := range v.Rows {
		if v.Rows[i].Code == code {
			return &v.Rows[i]
		}
	}
	return nil
}

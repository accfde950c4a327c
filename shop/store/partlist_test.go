package store

import (
	"strings"
	"testing"
)

// A list of parts is taken in whole or not at all; what it does not say of a part that is
// there stays, and taking it in twice changes nothing.
func TestTakeParts(t *testing.T) {
	onBoth(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		list := func(texts ...string) []Part {
			var out []Part
			for _, one := range texts {
				slug, text, _ := strings.Cut(one, " ")
				out = append(out, Part{Kind: "spring", Slug: slug, Name: strings.ToUpper(slug), Text: text, Who: "Ada", Why: "price list", Source: "a maker's list"})
			}
			return out
		}
		took := func(look bool, want TakenParts, texts ...string) {
			t.Helper()
			if is := must[TakenParts](t)(s.TakeParts(ctx, list(texts...), look)); is != want {
				t.Errorf("%v: %+v, want %+v", texts, is, want)
			}
		}
		two := []string{"a {rate: maker 60 N/mm, free: maker 250 mm}", "b {rate: maker 65 N/mm}"}
		took(true, TakenParts{New: 2}, two...)
		took(false, TakenParts{New: 2}, two...)
		took(false, TakenParts{Same: 2}, two...)
		a := must[Part](t)(s.Part(ctx, "spring", "a"))
		a.Text = "{rate: maker 60 N/mm, free: maker 250 mm, block: 96 mm, deflection: [0 mm, 50 mm], force: [0 N, 3000 N]}"
		must[Part](t)(s.SavePart(ctx, a))
		took(false, TakenParts{Same: 2}, two...) // what was measured since stays
		took(false, TakenParts{Changed: 1, Same: 1, New: 1}, "a {rate: maker 60 N/mm, free: maker 250 mm, price: 90 EUR}", two[1], "c {rate: maker 70 N/mm}")
		want := "{rate: maker 60 N/mm, free: maker 250 mm, block: 96 mm, deflection: [0 mm, 50 mm], force: [0 N, 3000 N], price: 90 EUR}"
		if is := must[Part](t)(s.Part(ctx, "spring", "a")); is.Text != want || is.Revision != 3 {
			t.Errorf("revision %d: %s", is.Revision, is.Text)
		}
		// One that cannot be kept keeps the others out too.
		bad := list("d {rate: maker 70 N/mm}", "e {rate: maker 70 N/mm")
		if _, err := s.TakeParts(ctx, bad, false); err == nil {
			t.Error("a text that is none was kept")
		}
		absent(t, second(s.Part(ctx, "spring", "d")))
	})
}

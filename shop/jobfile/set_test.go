package jobfile

import (
	"bytes"
	"strings"
	"testing"

	"trunnion/chassis/figure"
)

// Writing back what stands there changes no byte; writing something else
// changes that value and nothing beside it.
func TestSetChangesOneValue(t *testing.T) {
	for _, name := range exampleFiles {
		data := load(t, name)
		job := mustRead(t, data, name)
		tried, changed := 0, 0
		seen := map[string]bool{}
		figure.Walk(job, func(in *figure.Input) {
			if in.Typed == "" || seen[in.Path] {
				return
			}
			seen[in.Path] = true
			if end := strings.LastIndex(in.Path, "."); end > 0 {
				for _, place := range append(cornerKeys, axleKeys...) {
					if in.Path[end+1:] == place && !bytes.Contains(data, []byte(place+": "+in.Typed)) {
						return // a list whose unit stands once
					}
				}
			}
			same, err := Set(data, in.Path, in.Typed)
			if err != nil {
				return // in a list, or shared; counted below
			}
			tried++
			if !bytes.Equal(same, data) {
				t.Errorf("%s: writing back %s changed the text", in.Path, in.Typed)
			}
			with := "est " + strings.TrimPrefix(strings.TrimPrefix(in.Typed, "est "), "maker ")
			other, err := Set(data, in.Path, with)
			if err != nil {
				t.Errorf("%s: %v", in.Path, err)
				return
			}
			want := strings.Replace(string(data), in.Typed, with, 1)
			if len(other) != len(want) {
				t.Errorf("%s: %d bytes, want %d", in.Path, len(other), len(want))
			}
			changed++
		})
		if tried < 8 || changed != tried {
			t.Errorf("%s: %d values tried, %d changed", name, tried, changed)
		}
	}
}

func TestSetKeepsEverythingElse(t *testing.T) {
	for _, row := range []struct{ text, path, value, want string }{
		{"a: 1 mm # c\n", "a", "2 mm", "a: 2 mm # c\n"},
		{"a: 1 mm\r\nb: x\r\n", "a", "2 mm", "a: 2 mm\r\nb: x\r\n"},
		{"\uFEFFa: 1 mm\n", "a", "2 mm", "\uFEFFa: 2 mm\n"},
		{"é: {ü: 1 µm, b: 2 ± 3 mm} # ±\n", "é.b", "4 ± 1 mm", "é: {ü: 1 µm, b: 4 ± 1 mm} # ±\n"},
		{"a: \"1 mm\"  # c", "a", `2" tyre`, `a: "2\" tyre"  # c`},
		{"a: 'it''s'\n", "a", "isn't", "a: 'isn''t'\n"},
		{"a: x\n", "a", "y: z", "a: 'y: z'\n"},
		{"a: x\n", "a", "# y", "a: '# y'\n"},
		{"a: x\n", "a", "", "a: ''\n"},
		{"a: x\n", "a", "- y", "a: '- y'\n"},
		{"a: x\n", "a", "null", "a: 'null'\n"},
		{"a:\n  - {m: 1 kg}\n  - {m: 2 kg}\n", "a[1].m", "3 kg", "a:\n  - {m: 1 kg}\n  - {m: 3 kg}\n"},
		{"l: [1, 2, 3, 4 kg]\n", "l.rear_left", "5 kg", "l: [1, 2, 5 kg, 4 kg]\n"},
		{"l: [1, 2 m]\n", "l.rear", "3 m", "l: [1, 3 m]\n"},
		{"a: [1, 2, 3 mm]\n", "a[1]", "5", "a: [1, 5, 3 mm]\n"},
		{"{\"a\": {\"b\": \"1 mm\", \"c\": 2}}", "a.b", "9 mm", "{\"a\": {\"b\": \"9 mm\", \"c\": 2}}"},
		{"{\"a\": {\"b\": \"1 mm\", \"c\": 2}}", "a.c", "9", "{\"a\": {\"b\": \"1 mm\", \"c\": \"9\"}}"},
		{"u: {closed-road hill climb: 10 %}\n", "u.closed-road hill climb", "15 %", "u: {closed-road hill climb: 15 %}\n"},
		{"a:   1 mm   \nb:\n\n  c:    2 mm\n", "b.c", "3 mm", "a:   1 mm   \nb:\n\n  c:    3 mm\n"},
	} {
		got, err := Set([]byte(row.text), row.path, row.value)
		if err != nil || string(got) != row.want {
			t.Errorf("Set(%q, %s, %q) is %q, %v, want %q", row.text, row.path, row.value, got, err, row.want)
		}
	}
}

func TestSetRefuses(t *testing.T) {
	for _, row := range []struct{ text, path, value, says string }{
		{"a: 1 mm\n", "b", "2 mm", "no single value"},
		{"a: {b: 1}\n", "a", "2 mm", "no single value"},
		{"a: [1, 2]\n", "a[2]", "2", "no single value"},
		{"a: [1, 2]\n", "a[x]", "2", "no single value"},
		{"a: &x 1 mm\nb: *x\n", "a", "2 mm", "shared"},
		{"a: &x 1 mm\nb: *x\n", "b", "2 mm", "shared"},
		{"a: &x {c: 1 mm}\nb: *x\n", "b.c", "2 mm", "shared"},
		{"a: x\n", "a", "two\nlines", "one line"},
		{"a: x\n", "a", "\xff", "one line"},
		{"a: >-\n  folded\n  text\n", "a", "x", "no single value"},
		{"a: two\n  lines\n", "a", "x", "in place"},
		{"a: [\n", "a", "x", "not readable"},
	} {
		got, err := Set([]byte(row.text), row.path, row.value)
		if err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("Set(%q, %s, %q) is %q, %v, want an error with %q", row.text, row.path, row.value, got, err, row.says)
		}
	}
}

func TestSetIsRead(t *testing.T) {
	data := load(t, exampleFiles[0])
	changed, err := Set(data, "builds.kit.front.seats_closer", "30 ± 1 mm")
	if err != nil {
		t.Fatal(err)
	}
	got := mustRead(t, changed, "job.yaml").Builds[3].Corner[0].SeatsCloser
	if got.Value != 0.03 || got.Half != 0.001 || got.Typed != "30 ± 1 mm" {
		t.Errorf("got %+v", got)
	}
	if bytes.Count(changed, []byte("#")) != bytes.Count(data, []byte("#")) {
		t.Error("a comment was lost")
	}
}

func BenchmarkSet(b *testing.B) {
	data := load(b, exampleFiles[0])
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Set(data, "builds.kit.front.seats_closer", "30 mm"); err != nil {
			b.Fatal(err)
		}
	}
}

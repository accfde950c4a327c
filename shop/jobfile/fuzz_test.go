package jobfile

import (
	"bytes"
	"strings"
	"testing"

	"trunnion/chassis/figure"
)

// FuzzRead: no text stops the reader; what is accepted reads the same again,
// has only finite figures, and can be written back value by value.
func FuzzRead(f *testing.F) {
	for _, name := range exampleFiles {
		f.Add(load(f, name))
	}
	for _, text := range []string{
		"", "trunnion: job/1\n", "{\"trunnion\": \"job/1\"}", "- - - x", "a: &a [*a]", "? x\n: y", "a: |\n  b\n", "!!x y", "trunnion: job/1\ncar: {front: {motion: {wheel: [1 mm, 2 mm]}}}",
		"trunnion: job/1\nparts: {springs: {a: {use: b}, b: {use: a}}}\nbuilds: {x: {front: {spring: a}}}\n",
		"trunnion: job/1\nloads: {a: {with: b}, b: {with: a}}\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		job, faults := ReadBytes(data, "job.yaml")
		if (job == nil) != (AsError("job.yaml", faults) != nil) {
			t.Fatalf("job %v with faults %v", job != nil, faults)
		}
		for _, one := range faults {
			if strings.Contains(one.In("job.yaml"), "\n") || one.Line < 0 {
				t.Fatalf("a fault is one line: %q", one.In("job.yaml"))
			}
		}
		if job == nil {
			return
		}
		again, _ := ReadBytes(data, "job.yaml")
		if again == nil {
			t.Fatal("accepted once and refused the second time")
		}
		sameFigures(t, again, job)
		tried := 0
		figure.Walk(job, func(in *figure.Input) {
			if !(in.Half >= 0) || in.Value-in.Value != 0 || in.Half-in.Half != 0 {
				t.Fatalf("%s is %v ± %v", in.Path, in.Value, in.Half)
			}
			if in.Typed == "" || tried >= 2 {
				return
			}
			tried++
			if same, err := Set(data, in.Path, in.Typed); err == nil && !bytes.Equal(same, data) {
				if after, _ := ReadBytes(same, "job.yaml"); after == nil {
					t.Fatalf("%s cannot be read after writing back %q", in.Path, in.Typed)
				}
			}
		})
	})
}

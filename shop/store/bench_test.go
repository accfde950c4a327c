package store

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/uptrace/bun"
)

// large is a store of 20,000 jobs of the demo's size, each with its own owner,
// plate, car and serial number; made once for all benchmarks.
var large = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "large")
	if err != nil {
		return "", err
	}
	largeMade = dir
	return dir, fill(dir, 20_000)
})

var largeMade string // to be taken away at the end

const demo = "../../examples/marl-estate/job.yaml"

var (
	firstNames = strings.Fields("Ada Ben Cleo Dov Edda Finn Greta Hal Ines Jon Kaja Lev Mina Nils Orla Per Quin Rosa Sten Tove")
	lastNames  = strings.Fields("Ashgrove Birchall Copperfell Dunmoor Elmsworth Fennick Garrowby Hazelden Inglemere Jessop Kettlewick Larkhill Marsden Nettleby Oakhanger Pebworth")
)

func fill(dir string, jobs int) error {
	s, err := Open(bg, dir, Options{})
	if err != nil {
		return err
	}
	text, err := os.ReadFile(demo)
	if err != nil {
		return err
	}
	// Past Save, in one transaction: 20,000 waits for the disk are not what is
	// measured here. The rows are made as Save makes them.
	err = s.write(bg, func(ctx context.Context, tx bun.Tx) error {
		for i := range jobs {
			own := strings.NewReplacer(
				"Mrs Ollerwick", firstNames[i%20]+" "+lastNames[i/20%16]+fmt.Sprint(" ", i),
				"TW 42 OLW", fmt.Sprintf("TW %05d", i), `"0042"`, fmt.Sprintf(`"%06d"`, i),
				"front-25", fmt.Sprintf("front-%d", 20+i%40),
				"construction: twin-tube", fmt.Sprintf("construction: twin-tube\n      serial: SN-%06d", i),
			).Replace(string(text))
			f, err := factsOf([]byte(own))
			if err != nil {
				return err
			}
			row := revisionRow{JobID: fmt.Sprintf("job%05d", i), Number: 1, SavedBy: "Ada", SHA256: sum([]byte(own)), Text: own}
			if err := s.put(ctx, tx, &row, f); err != nil {
				return err
			}
			if _, err := tx.NewInsert().Model(&row).Exec(ctx); err != nil {
				return err
			}
			if err := putWords(ctx, tx, row.JobID, f); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	return s.Close()
}

func largeDir(b *testing.B) string {
	b.Helper()
	dir, err := large()
	if err != nil {
		b.Fatal(err)
	}
	return dir
}

func BenchmarkStartWith20000Jobs(b *testing.B) {
	dir := largeDir(b)
	info, err := os.Stat(filepath.Join(dir, databaseName))
	if err != nil {
		b.Fatal(err)
	}
	defer func() { b.ReportMetric(float64(info.Size())/1e6, "MB") }()
	for b.Loop() {
		s, err := Open(bg, dir, Options{})
		if err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
}

func BenchmarkSearch20000Jobs(b *testing.B) {
	s := open(b, largeDir(b), Options{})
	for name, q := range map[string]Query{
		"one":      {Text: "ada ashgrove 17600"},
		"none":     {Text: "nobody at all"},
		"all":      {Text: "marl"},
		"plate":    {Text: "tw 12 345"},
		"serial":   {Serial: "sn 012345"},
		"part":     {Part: "front-31"},
		"everyone": {},
		"fields":   {Owner: "kettlewick", Part: "front-31", Text: "marl"},
		"lastpage": {Text: "e", Offset: 19_950},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := s.Find(bg, q); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSave(b *testing.B) {
	s := open(b, b.TempDir(), Options{})
	text, err := os.ReadFile(demo)
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	for b.Loop() {
		if _, err := s.Save(bg, Change{Job: "j", Expected: n, Who: "Ada", Text: text}); err != nil {
			b.Fatal(err)
		}
		n++
	}
}

func BenchmarkOpenEmpty(b *testing.B) {
	dir := b.TempDir()
	for b.Loop() {
		s, err := Open(bg, dir, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFacts(b *testing.B) {
	text, err := os.ReadFile(demo)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := factsOf(text); err != nil {
			b.Fatal(err)
		}
	}
}

var bg = context.Background()

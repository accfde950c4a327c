package sheet

import (
	"bytes"
	"encoding/csv"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

var allBuilds = []string{"arrived", "lower-old", "lower-uprated", "kit"}

// reader runs a program that reads PDFs; where the machine has none, that is
// written down as left out, which a CI machine counts as a failure.
func reader(t *testing.T, name string, args ...string) (string, bool) {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Logf("LEFT OUT: no %s on this machine", name)
		if list := os.Getenv("TRUNNION_LEFT_OUT"); list != "" {
			f, err := os.OpenFile(list, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close() //nolint:errcheck // a line for people
			if _, err := f.WriteString("PDF read by " + name + " (not on this machine)\n"); err != nil {
				t.Fatal(err)
			}
		}
		if os.Getenv("CI") == "true" {
			t.Errorf("a CI machine reads PDFs with %s", name)
		}
		return "", false
	}
	out, err := exec.CommandContext(t.Context(), path, args...).CombinedOutput()
	if err != nil {
		t.Errorf("%s %s: %v: %s", name, strings.Join(args, " "), err, out)
	}
	return string(out), err == nil
}

// TestPDF: every build of the demo fits one or two pages of both papers, opens in
// two independent readers, can be searched, and carries its typefaces.
func TestPDF(t *testing.T) {
	dir := t.TempDir()
	for _, b := range allBuilds {
		for _, paper := range []Paper{A4, Letter} {
			s := made(t, func(s *Source) { s.Build = b })
			var out, again bytes.Buffer
			if err := WritePDF(&out, s, paper); err != nil {
				t.Fatal(err)
			}
			if err := WritePDF(&again, s, paper); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
				t.Errorf("%s %s: the same sheet is not the same file, %v", b, paper, err)
			}
			file := filepath.Join(dir, b+string(paper)+".pdf")
			if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			if text, ok := reader(t, "pdfinfo", file); ok && !regexp.MustCompile(`Pages:\s+[12]\n`).MatchString(text) {
				t.Errorf("%s %s: not one or two pages: %s", b, paper, text)
			} else if ok && paper == Letter && !strings.Contains(text, "612 x 792") {
				t.Errorf("%s: Letter is no Letter: %s", b, text)
			}
			for _, program := range [][]string{{"pdftotext", "-layout", file, "-"}, {"mutool", "draw", "-q", "-F", "text", file}} {
				text, ok := reader(t, program[0], program[1:]...)
				if !ok {
					continue
				}
				flat := strings.Join(strings.Fields(text), " ")
				for _, want := range []string{"Mrs Ollerwick", "Tarrowby Works", "thumps", "Final checks", "hub to arch"} {
					if !strings.Contains(flat, want) {
						t.Errorf("%s %s: %s does not find %q", b, paper, program[0], want)
					}
				}
				if s.Draft != strings.Contains(flat, "Draft. Not ready") {
					t.Errorf("%s: draft is %v, on paper %v", b, s.Draft, !s.Draft)
				}
			}
			if text, ok := reader(t, "pdffonts", file); ok {
				for _, line := range strings.Split(strings.TrimSpace(text), "\n")[2:] {
					// name, type, encoding, emb sub uni: the three before the object's number.
					if f := strings.Fields(line); len(f) < 6 || f[len(f)-5] != "yes" {
						t.Errorf("%s: a typeface is not in the file: %s", b, line)
					}
				}
			}
		}
	}
}

// TestGrey: the paper is printed in black and white, so nothing on it is coloured.
func TestGrey(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	if err := WritePDF(&out, made(t, func(s *Source) { s.Build = "lower-old" }), A4); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "a.pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, ok := reader(t, "pdftoppm", "-r", "40", "-png", file, filepath.Join(dir, "a")); !ok {
		return
	}
	list, err := filepath.Glob(filepath.Join(dir, "a*.png"))
	if err != nil || len(list) == 0 {
		t.Fatal("no picture", err)
	}
	for _, name := range list {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		if err != nil {
			t.Fatal(err)
		}
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if r, g, b, _ := img.At(x, y).RGBA(); r != g || g != b {
					t.Fatalf("%s is coloured at %d, %d", name, x, y)
				}
			}
		}
	}
}

func TestCardPDF(t *testing.T) {
	var out bytes.Buffer
	if err := WriteCardPDF(&out, made(t, func(s *Source) { s.Build = "kit" })); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if text, ok := reader(t, "pdfinfo", file); ok && (!strings.Contains(text, "Pages:           1") || !strings.Contains(text, "242.65 x 153.01")) {
		t.Errorf("no card of 85.6 by 54 mm: %s", text)
	}
	if text, ok := reader(t, "pdftotext", "-layout", file, "-"); ok && (!strings.Contains(text, "Wet hill") || !strings.Contains(text, "11 / 11")) {
		t.Errorf("the card says %s", text)
	}
}

// TestLong: names longer than the paper is wide, many presets and letters that
// the typeface lacks: nothing fails, and what cannot be set is said.
func TestLong(t *testing.T) {
	src, err := marl()
	if err != nil {
		t.Fatal(err)
	}
	job := *src.Job
	job.Info.Owner = strings.Repeat("Featherstonehaugh-", 12) + " 日本太郎"
	job.Info.Words = strings.Repeat("It thumps when all of us are aboard. ", 20)
	src.Job, src.Build = &job, "kit"
	s, err := New(src)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := WritePDF(&out, s, Letter); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "long.pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if text, ok := reader(t, "pdftotext", file, "-"); ok {
		if !strings.Contains(text, "□□□□") || !strings.Contains(strings.Join(strings.Fields(text), " "), "letters that this typeface lacks") {
			t.Errorf("letters that are missing are not said: %.300s", text)
		}
	}
}

func TestLetters(t *testing.T) {
	for text, want := range map[string]string{
		"Größe Δφ Ω µ ° − Ž Ł": "Größe Δφ Ω µ ° − Ž Ł", "日本": "□□", "a\u00adb\u200bc": "abc", "two\nlines": "two lines", "Ивана": "Ивана", "😀": "□", "e\u0301": "é",
		"שלום": "□□□□", "x\u0302\u0301": "x□□", "\u202eabc": "□abc",
	} {
		got, all := letters(text)
		if got != want || all != !strings.Contains(want, "□") {
			t.Errorf("%q is set as %q, all of it %v", text, got, all)
		}
	}
}

func picture(t *testing.T, w, h int) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestLogo refuses what is no picture or a bomb, and prints what is one.
func TestLogo(t *testing.T) {
	good := picture(t, 300, 100)
	if err := CheckLogo(good); err != nil {
		t.Error(err)
	}
	// A picture that says it is 60000 by 60000 points.
	bomb := bytes.Clone(good)
	copy(bomb[16:24], []byte{0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60})
	for what, logo := range map[string][]byte{
		"nothing": nil, "words": []byte("this is no picture"), "half": good[:60], "too large": append(bytes.Clone(good), make([]byte, MostLogoBytes)...), "bomb": bomb,
	} {
		if err := CheckLogo(logo); err == nil {
			t.Errorf("%s is taken for a logo", what)
		}
	}
	s := made(t, func(s *Source) {
		s.Build, s.Workshop = "kit", Workshop{Name: "Tarrowby Works", Words: "Springs and dampers", Logo: good}
	})
	var with, without bytes.Buffer
	if err := WritePDF(&with, s, A4); err != nil {
		t.Fatal(err)
	}
	s.Workshop.Logo = nil
	if err := WritePDF(&without, s, A4); err != nil || with.Len() <= without.Len() {
		t.Errorf("the logo is not in the file: %d bytes with, %d without, %v", with.Len(), without.Len(), err)
	}
}

// TestSpreadsheets: what a workshop typed is text in both, never a formula.
func TestSpreadsheets(t *testing.T) {
	src, err := marl()
	if err != nil {
		t.Fatal(err)
	}
	job := *src.Job
	job.Info.Owner = "=HYPERLINK(\"http://x\")"
	src.Job, src.Build = &job, "kit"
	s, err := New(src)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := WriteCSV(&out, s); err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(&out)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@", rune(cell[0])) {
				t.Errorf("a cell begins like a formula: %q", cell)
			}
			found = found || strings.HasPrefix(cell, "'=HYPERLINK")
		}
	}
	if !found {
		t.Error("the owner is not among the rows")
	}
	out.Reset()
	if err := WriteXLSX(&out, s); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close() //nolint:errcheck // it was only read
	sheetRows, err := f.GetRows("Sheet")
	if err != nil || len(sheetRows) != len(rows) {
		t.Errorf("%d rows, want %d, %v", len(sheetRows), len(rows), err)
	}
	for i, row := range sheetRows {
		for j := range row {
			at, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			if formula, err := f.GetCellFormula("Sheet", at); err != nil || formula != "" {
				t.Errorf("%s is a formula: %s %v", at, formula, err)
			}
		}
	}
}

func BenchmarkPDF(b *testing.B) {
	src, err := marl()
	if err != nil {
		b.Fatal(err)
	}
	src.Build = "kit"
	for b.Loop() {
		s, err := New(src)
		if err != nil {
			b.Fatal(err)
		}
		var out bytes.Buffer
		if err := WritePDF(&out, s, A4); err != nil {
			b.Fatal(err)
		}
	}
}

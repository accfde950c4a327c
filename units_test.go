package trunnion_test

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// physics is the folder whose numbers are SI and say so.
const physics = "chassis"

// unitWords are the words a unit in square brackets may be made of: SI units
// without prefixes (kg is the base unit), and the counts that stand in a rate.
// An angle is in radians; a temperature is in kelvin; gigapascals, millimetres and
// degrees are for the shop.
var unitWords = []string{"m", "s", "kg", "N", "Pa", "rad", "Hz", "J", "W", "K", "A", "V", "cycle", "cycles"}

var (
	bracketed = regexp.MustCompile(`\[([^\[\]]+)\]`)
	// unitShape admits what joins unit words: powers, products, quotients.
	unitShape = regexp.MustCompile(`^[A-Za-z0-9^()/·⋅* .−⁻¹²³⁴-]+$`)
	unitWord  = regexp.MustCompile(`[A-Za-z]+`)
)

// isUnit reports whether the text between two brackets is a unit: "-" for a pure
// number, SI such as "N/m" or "m^2/(rad/m)", or, in packages that know no car,
// "unit of …" with what it takes its unit from. A documentation link such as
// [Spring] is none. "SI", or "SI unit of …", is for a value that carries the name of
// its unit beside it.
func isUnit(text string) bool {
	if text == "-" || text == "SI" || strings.HasPrefix(text, "SI unit of ") || strings.HasPrefix(text, "unit of ") || strings.HasPrefix(text, "units of ") {
		return true
	}
	words := unitWord.FindAllString(text, -1)
	if len(words) == 0 || !unitShape.MatchString(text) {
		return false
	}
	for _, w := range words {
		if !slices.Contains(unitWords, w) {
			return false
		}
	}
	return true
}

// unitIn returns whether one of the comments holds a unit, and the bracketed texts
// that are none, for the message.
func unitIn(groups ...*ast.CommentGroup) (found bool, strange []string) {
	for _, g := range groups {
		for _, match := range bracketed.FindAllStringSubmatch(g.Text(), -1) {
			if isUnit(match[1]) {
				found = true
			} else {
				strange = append(strange, match[0])
			}
		}
	}
	return found, strange
}

// isFloat reports whether a type is float64, or a pointer to, an array, a slice or
// a map of it, at any depth.
func isFloat(expr ast.Expr) bool {
	switch t := expr.(type) {
	case *ast.Ident:
		return t.Name == "float64"
	case *ast.ArrayType:
		return isFloat(t.Elt)
	case *ast.StarExpr:
		return isFloat(t.X)
	case *ast.ParenExpr:
		return isFloat(t.X)
	case *ast.MapType:
		return isFloat(t.Value)
	default:
		return false
	}
}

// unitFaults returns the exported numbers of a file without a unit in their
// comment, struct tags that tie a type to a file format, and how many numbers it
// looked at. Numbers are struct fields and package-level constants and variables
// that are float64 by type or by their literal.
func unitFaults(fset *token.FileSet, file *ast.File) (faults []string, checked int) {
	add := func(at token.Pos, format string, args ...any) {
		faults = append(faults, fset.Position(at).String()+": "+fmt.Sprintf(format, args...))
	}
	want := func(names []*ast.Ident, groups ...*ast.CommentGroup) {
		for _, name := range names {
			if !name.IsExported() {
				continue
			}
			checked++
			found, strange := unitIn(groups...)
			switch {
			case found:
			case len(strange) > 0:
				add(name.Pos(), "%s: %s is no SI unit; write such as [N/m], or [-] for a pure number", name.Name, strings.Join(strange, " "))
			default:
				add(name.Pos(), "%s has no unit in its comment; write such as [N/m], or [-] for a pure number", name.Name)
			}
		}
	}
	ast.Inspect(file, func(node ast.Node) bool {
		st, ok := node.(*ast.StructType)
		if !ok {
			return true
		}
		for _, field := range st.Fields.List {
			if field.Tag != nil {
				add(field.Tag.Pos(), "struct tag %s: file formats are the shop's", field.Tag.Value)
			}
			if isFloat(field.Type) {
				want(field.Names, field.Doc, field.Comment)
			}
		}
		return true
	})
	for _, decl := range file.Decls {
		gen, ok := decl.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range gen.Specs {
			value, ok := spec.(*ast.ValueSpec)
			if !ok {
				continue
			}
			float := value.Type != nil && isFloat(value.Type)
			if value.Type == nil && len(value.Values) > 0 {
				lit, ok := value.Values[0].(*ast.BasicLit)
				float = ok && lit.Kind == token.FLOAT
			}
			if !float {
				continue
			}
			groups := []*ast.CommentGroup{value.Doc, value.Comment}
			if !gen.Lparen.IsValid() {
				// A declaration by itself keeps its comment on the declaration.
				groups = append(groups, gen.Doc)
			}
			want(value.Names, groups...)
		}
	}
	return faults, checked
}

var (
	// workshopText finds workshop units in a string: as words, so that "arm" or
	// "comma" is let be.
	workshopText = regexp.MustCompile(`(^|[^\pL])(N/mm|mm|cm|km|km/h|kph|mph|kN|kPa|MPa|GPa|lbf?|lbs|psi|kgf|inch|inches|ft|degC|degrees?)($|[^\pL])|°`)
	// freedom is counted in degrees that are no angle.
	freedom = regexp.MustCompile(`degrees? of freedom`)
	// workshopAlone and workshopLast find them in a name: as the whole name, or as
	// the last word of one with several words.
	workshopAlone = []string{"kmh", "kph", "mph", "lbf", "kgf", "inch", "inches"}
	workshopLast  = []string{"mm", "cm", "km", "kmh", "kph", "mph", "lb", "lbs", "lbf", "psi", "kgf", "inch", "inches", "ft", "deg", "degrees", "kn", "kpa", "mpa"}
)

// nameWords splits a name at underscores and where a capital begins a word:
// rate_mm, rateMm, rateMM and RateNPerMM all end in mm.
func nameWords(name string) []string {
	var words []string
	runes := []rune(name)
	start := 0
	cut := func(end int) {
		if end > start {
			words = append(words, strings.ToLower(string(runes[start:end])))
		}
		start = end
	}
	for i, r := range runes {
		switch {
		case r == '_':
			cut(i)
			start = i + 1
		case i > 0 && unicode.IsUpper(r) && (!unicode.IsUpper(runes[i-1]) || i+1 < len(runes) && unicode.IsLower(runes[i+1])):
			cut(i)
		}
	}
	cut(len(runes))
	return words
}

// workshopName reports whether a name carries a workshop unit. psi after a single
// letter (dPsi) is the yaw angle.
func workshopName(name string) bool {
	words := nameWords(name)
	switch len(words) {
	case 0:
		return false
	case 1:
		return slices.Contains(workshopAlone, words[0])
	}
	last := words[len(words)-1]
	if last == "psi" && len(words[len(words)-2]) == 1 {
		return false
	}
	return slices.Contains(workshopLast, last)
}

// workshopFaults returns the names and string literals of a file that carry a
// workshop unit, and how many it looked at. Comments may speak of any unit.
func workshopFaults(fset *token.FileSet, file *ast.File) (faults []string, checked int) {
	ast.Inspect(file, func(node ast.Node) bool {
		switch n := node.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Ident:
			checked++
			if workshopName(n.Name) {
				faults = append(faults, fmt.Sprintf("%s: the name %s carries a workshop unit; the physics is in SI", fset.Position(n.Pos()), n.Name))
			}
		case *ast.BasicLit:
			if n.Kind != token.STRING {
				return true
			}
			checked++
			text, err := strconv.Unquote(n.Value)
			if err != nil {
				text = n.Value
			}
			if workshopText.MatchString(freedom.ReplaceAllString(text, "")) {
				faults = append(faults, fmt.Sprintf("%s: the text %s carries a workshop unit; the shop words and converts", fset.Position(n.Pos()), n.Value))
			}
		}
		return true
	})
	return faults, checked
}

// physicsFiles parses every Go file of the physics but its tests, whose rows may
// quote a source in the source's own units.
func physicsFiles(t *testing.T) (*token.FileSet, []*ast.File) {
	t.Helper()
	fset := token.NewFileSet()
	var files []*ast.File
	err := filepath.WalkDir(physics, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(fset, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		files = append(files, file)
		return err
	})
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(files) == 0 {
		t.Fatalf("no Go file under %s/: nothing was checked", physics)
	}
	if err != nil {
		t.Fatal(err)
	}
	return fset, files
}

func TestEveryNumberSaysItsUnit(t *testing.T) {
	checkPhysics(t, unitFaults)
}

func TestNoWorkshopUnitInThePhysics(t *testing.T) {
	checkPhysics(t, workshopFaults)
}

func checkPhysics(t *testing.T, check func(*token.FileSet, *ast.File) ([]string, int)) {
	t.Helper()
	fset, files := physicsFiles(t)
	total := 0
	for _, file := range files {
		faults, checked := check(fset, file)
		total += checked
		for _, f := range faults {
			t.Error(f)
		}
	}
	if total == 0 {
		t.Errorf("nothing was checked in %d files", len(files))
	}
	t.Logf("%d checked in %d files", total, len(files))
}

// snippet parses source text for the tests below.
func snippet(t *testing.T, source string) (*token.FileSet, *ast.File) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "snippet.go", "package part\n"+source, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	return fset, file
}

// The two tests below show that the checks above can fail.

func TestMissingUnitIsFound(t *testing.T) {
	for _, row := range []struct {
		source          string
		faults, checked int
	}{
		{"type S struct { Rate float64 }", 1, 1},
		{"type S struct { Rate float64 // at the spring [N/m]\n}", 0, 1},
		{"type S struct {\n// Rate at the spring [N/m].\nRate float64\n}", 0, 1},
		{"type S struct { Rate float64 // at the spring [N/mm]\n}", 1, 1},
		{"type S struct { Rate float64 // as in [Spring]\n}", 1, 1},
		{"type S struct { Rate float64 // of [Spring], at the wheel [N/m]\n}", 0, 1},
		{"type S struct { Ratio float64 // spring travel / wheel travel [-]\n}", 0, 1},
		{"type S struct { Loads [4]float64; Table []float64; Pairs [][2]float64; Band *float64 }", 4, 4},
		{"type S struct { X, Y float64 // in the plane of the wheel [m]\n}", 0, 2},
		{"type S struct { X, Y float64 }", 2, 2},
		{"type S struct { rate float64; Name string; Count int }", 0, 0},
		{"type s struct { In struct { Rate float64 } }", 1, 1},
		{"type S struct { Rate float64 `json:\"rate\"` // [N/m]\n}", 1, 1},
		{"// Gravity is the standard acceleration.\nconst Gravity = 9.80665", 1, 1},
		{"// Gravity is the standard acceleration [m/s^2].\nconst Gravity = 9.80665", 0, 1},
		{"// Two numbers [m].\nconst (\nA = 1.5\nB = 2.5 // [m]\n)", 1, 2},
		{"var Loads []float64", 1, 1},
		{"type S struct { Tol float64 // on x [unit of x]\n}", 0, 1},
	} {
		faults, checked := unitFaults(snippet(t, row.source))
		if len(faults) != row.faults || checked != row.checked {
			t.Errorf("%s\ngot %d faults in %d numbers %q, want %d in %d", row.source, len(faults), checked, faults, row.faults, row.checked)
		}
	}
}

func TestUnitsAreRead(t *testing.T) {
	for _, good := range []string{"-", "m", "N/m", "N·s/m", "N s/m", "m/s^2", "m/s²", "1/m", "kg m^2", "kg·m²", "rad/(m/s^2)", "m^2/(cycle/m)", "m/s^1.75", "N·m/rad", "rad/s", "m^3", "Pa", "K", "s^-1", "unit of x", "SI", "SI unit of the quantity"} {
		if !isUnit(good) {
			t.Errorf("[%s] was not read as a unit", good)
		}
	}
	for _, bad := range []string{"mm", "N/mm", "kN", "deg", "Spring", "car.Corner", "4", "lbf/in", "psi", "km/h", "bar", "%", "g", "i", "N,m", "0, 1"} {
		if isUnit(bad) {
			t.Errorf("[%s] was read as a unit", bad)
		}
	}
}

func TestWorkshopUnitIsFound(t *testing.T) {
	for _, row := range []struct {
		source string
		faults int
	}{
		{"var rate_mm = 1", 1},
		{"var rateMM = 1", 1},
		{"func speedKmh() {}", 1},
		{"type S struct { PressurePsi float64 }", 1},
		{"func f(lbf float64) float64 { return lbf }", 2},
		{"var camberDeg = 1", 1},
		{`var s = "45 N/mm"`, 1},
		{`var s = "is %.1f mm"`, 1},
		{`var s = "at 30 km/h"`, 1},
		{`var s = "2.3psi"`, 1},
		{"var s = `257 lbf/in`", 1},
		{`var s = "4°"`, 1},
		{"// at 45 N/mm, 30 km/h and 33 psi\nvar s = 1", 0},
		{`var s = "the arm of the hammer, a comma, an inchworm"`, 0},
		{"var dPsi, psi, mm, arm, comma, trim, program, psiDot = 1, 1, 1, 1, 1, 1, 1, 1", 0},
		{"import \"example.org/mm\"", 0},
		{`var s = "N/m"`, 0},
		{`var s = "seven degrees of freedom"`, 0},
		{`var s = "4 degrees of camber, seven degrees of freedom"`, 1},
	} {
		faults, checked := workshopFaults(snippet(t, row.source))
		if len(faults) != row.faults {
			t.Errorf("%s\ngot %q, want %d faults", row.source, faults, row.faults)
		}
		if checked == 0 {
			t.Errorf("%s\nnothing was checked", row.source)
		}
	}
}

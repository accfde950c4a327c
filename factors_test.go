package trunnion_test

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// factors are the numbers that turn one unit into another: thousandths and
// millionths, per cent, minutes and hours, standard gravity, inches, half a turn.
var factors = []string{"1000", "1e-3", "1e6", "1e-6", "100", "0.01", "60", "3600", "3.6", "9.80665", "9.81", "25.4", "0.0254", "0.45359237", "180"}

// allowedFactors are products in the shop that look like a change of unit and are
// none, each with its reason.
var allowedFactors = map[string]string{
	"shop/sheet/page.go: 25.4 / 72":                     "a point of the printer in millimetres of paper: the sheet is laid out in them",
	"shop/pastjobs/wayback.go: math.Round(n*100) / 100": "rounds a number of turns to hundredths",
	"shop/pastjobs/wayback.go: n*100":                   "rounds a number of turns to hundredths",
	"shop/view/slider.go: step/1e3":                     "a thousandth of a slider's step is none",
}

// conversions finds products and quotients with a factor in the source of a file.
func conversions(fset *token.FileSet, file *ast.File, source []byte) (found []string, looked int) {
	isFactor := func(e ast.Expr) bool {
		lit, ok := e.(*ast.BasicLit)
		if !ok {
			return false
		}
		value := constant.MakeFromLiteral(lit.Value, lit.Kind, 0)
		for _, f := range factors {
			if constant.Compare(constant.ToFloat(value), token.EQL, constant.ToFloat(constant.MakeFromLiteral(f, token.FLOAT, 0))) {
				return true
			}
		}
		return false
	}
	ast.Inspect(file, func(n ast.Node) bool {
		e, ok := n.(*ast.BinaryExpr)
		if !ok || e.Op != token.MUL && e.Op != token.QUO {
			return true
		}
		looked++
		for _, side := range []ast.Expr{e.X, e.Y} {
			other := e.X
			if side == e.X {
				other = e.Y
			}
			if isFactor(side) && !isUnitOf(other) {
				found = append(found, string(source[fset.Position(e.Pos()).Offset:fset.Position(e.End()).Offset]))
				break
			}
		}
		return true
	})
	return found, looked
}

// isUnitOf reports a unit of the packages time and quantity: 60 * time.Second and
// 60 * quantity.KilometrePerHour name their unit.
func isUnitOf(e ast.Expr) bool {
	sel, ok := e.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	of, ok := sel.X.(*ast.Ident)
	return ok && (of.Name == "time" || of.Name == "quantity")
}

// TestConversionFactorsStandInQuantity looks through every source file of the shop
// outside quantity.
func TestConversionFactorsStandInQuantity(t *testing.T) {
	looked, used := 0, map[string]bool{}
	err := filepath.WalkDir("shop", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "shop/quantity/") {
			return err
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, path, source, 0)
		if err != nil {
			return err
		}
		list, n := conversions(fset, file, source)
		looked += n
		for _, one := range list {
			key := filepath.ToSlash(path) + ": " + one
			if allowedFactors[key] == "" {
				t.Errorf("%s: a change of unit belongs into shop/quantity", key)
			}
			used[key] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for key := range allowedFactors {
		if !used[key] {
			t.Errorf("%s is allowed and stands nowhere", key)
		}
	}
	if looked < 200 {
		t.Errorf("%d products and quotients in the shop; there are hundreds", looked)
	}
}

// TestConversionFactorsAreFound shows that the test above can fail.
func TestConversionFactorsAreFound(t *testing.T) {
	for text, want := range map[string]int{
		"1e3 * v": 1, "v / 3.6": 1, "math.Round(100 * v)": 1, "v * 180 / math.Pi": 1, "v * 0.001": 1,
		"2 * v": 0, "v + 100": 0, "60 * time.Second": 0, "60 * quantity.KilometrePerHour": 0,
	} {
		source := []byte(fmt.Sprintf("package a\nvar x = %s\n", text))
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, "a.go", source, 0)
		if err != nil {
			t.Fatal(err)
		}
		if found, _ := conversions(fset, file, source); len(found) != want {
			t.Errorf("%s: found %q, want %d", text, found, want)
		}
	}
}

package trunnion_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// asksTheStudy are the calls that answer a question: a study, its drives, its
// judgement. Only the desk makes them, so that the same question has the same
// answer wherever it is asked.
var asksTheStudy = []string{"study.Run", "study.Rerun", "study.RideDefaults", "study.Defaults", "finding.Judge"}

// asksTheAnswer are the calls on an answer that compute further: builds round a corner,
// at speed, in the holes of a bar.
var asksTheAnswer = []string{"Cornering", "Yaw", "YawSpeeds", "Pair", "BarHoles"}

// askers returns the files outside the desk and the physics that make one of those
// calls, and the calls that the desk makes.
func askers(t *testing.T, root string) (outside, desk []string) {
	t.Helper()
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && path != root && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "node_modules" || entry.Name() == "chassis"):
			return filepath.SkipDir
		case !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, is := n.(*ast.SelectorExpr)
			if !is {
				return true
			}
			name := ""
			switch from := call.X.(type) {
			case *ast.Ident:
				if one := from.Name + "." + call.Sel.Name; slices.Contains(asksTheStudy, one) {
					name = one
				}
			case *ast.SelectorExpr:
				if from.Sel.Name == "Answer" && slices.Contains(asksTheAnswer, call.Sel.Name) {
					name = "Answer." + call.Sel.Name
				}
			}
			if name == "" {
				return true
			}
			if filepath.ToSlash(filepath.Dir(path)) == "shop/desk" {
				desk = append(desk, name)
			} else {
				outside = append(outside, path+" has "+name)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return outside, desk
}

func TestOnlyTheDeskAsksTheStudy(t *testing.T) {
	outside, desk := askers(t, ".")
	for _, one := range outside {
		t.Errorf("%s: questions are asked in shop/desk", one)
	}
	if !slices.Contains(desk, "study.Rerun") || !slices.Contains(desk, "finding.Judge") || !slices.Contains(desk, "Answer.Cornering") {
		t.Errorf("the desk was not seen to ask: %q", desk)
	}
}

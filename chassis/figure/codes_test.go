package figure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"trunnion/chassis/figure"
)

// Every code that the program gives a value, or asks the register for, is in it:
// the literals beside figure.Value's Code and figure.Must.
func TestEveryCodeIsInTheRegister(t *testing.T) {
	seen := 0
	check := func(at token.Position, e ast.Expr) {
		lit, ok := e.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return
		}
		code, err := strconv.Unquote(lit.Value)
		if err != nil {
			t.Fatal(err)
		}
		seen++
		if _, ok := figure.Look(code); !ok {
			t.Errorf("%s: %q is not in the register", at, code)
		}
	}
	for _, room := range []string{"../../chassis", "../../shop", "../../cmd"} {
		err := filepath.WalkDir(room, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files := token.NewFileSet()
			f, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.CallExpr:
					if isFigure(n.Fun, "Must") && len(n.Args) == 1 {
						check(files.Position(n.Pos()), n.Args[0])
					}
				case *ast.CompositeLit:
					if !isFigure(n.Type, "Value") {
						break
					}
					for _, e := range n.Elts {
						if kv, ok := e.(*ast.KeyValueExpr); ok {
							if key, ok := kv.Key.(*ast.Ident); ok && key.Name == "Code" {
								check(files.Position(kv.Pos()), kv.Value)
							}
						}
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 8 {
		t.Errorf("%d codes were found in the source, want more", seen)
	}
}

func isFigure(e ast.Expr, name string) bool {
	s, ok := e.(*ast.SelectorExpr)
	if !ok || s.Sel.Name != name {
		return false
	}
	p, ok := s.X.(*ast.Ident)
	return ok && p.Name == "figure"
}

package validation

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Subject is what the source says of a test: a call of Against.
type Subject struct {
	Package string // folder, from the root
	Test    string
	Record
}

// Subjects reads off the tests under a folder what they say they hold against what,
// sorted by model.
func Subjects(root string) ([]Subject, error) {
	var out []Subject
	err := sources(root, func(path string, file *ast.File, _ *token.FileSet) error {
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		for _, d := range file.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil {
				continue
			}
			var bad error
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || !isAgainst(call) {
					return true
				}
				s, err := subject(call)
				if err != nil {
					bad = fmt.Errorf("%s, %s: %w", path, fn.Name.Name, err)
					return false
				}
				s.Package, s.Test = filepath.ToSlash(filepath.Dir(path)), fn.Name.Name
				out = append(out, s)
				return true
			})
			if bad != nil {
				return bad
			}
		}
		return nil
	})
	slices.SortFunc(out, func(a, b Subject) int { return strings.Compare(a.Model+a.Test, b.Model+b.Test) })
	return out, err
}

func isAgainst(call *ast.CallExpr) bool {
	sel, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || sel.Sel.Name != "Against" {
		return false
	}
	pkg, ok := sel.X.(*ast.Ident)
	return ok && pkg.Name == "validation"
}

var kinds = map[string]Kind{"Printed": Printed, "Engine": Engine, "Derived": Derived, "Practice": Practice}

func subject(call *ast.CallExpr) (Subject, error) {
	var s Subject
	if len(call.Args) < 4 {
		return s, fmt.Errorf("Against has %d arguments", len(call.Args))
	}
	kind, ok := call.Args[2].(*ast.SelectorExpr)
	if !ok || kinds[kind.Sel.Name] == "" {
		return s, fmt.Errorf("the kind is none of this package's")
	}
	s.Kind = kinds[kind.Sel.Name]
	for i, arg := range call.Args {
		if i == 0 || i == 2 {
			continue
		}
		lit, ok := arg.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return s, fmt.Errorf("argument %d is no literal", i+1)
		}
		text, err := strconv.Unquote(lit.Value)
		if err != nil {
			return s, err
		}
		switch i {
		case 1:
			s.Model = text
		case 3:
			s.Source = text
		default:
			s.Codes = append(s.Codes, text)
		}
	}
	return s, nil
}

// Practised is a place in the physics that says of a figure that it is common
// practice without a source.
type Practised struct {
	Package string
	Names   []string // of the declarations
}

const noSource = "common practice, no source"

// Practices finds them under a folder.
func Practices(root string) ([]Practised, error) {
	found := map[string][]string{}
	err := sources(root, func(path string, file *ast.File, set *token.FileSet) error {
		if strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "reference/") {
			return nil
		}
		at := map[string]bool{}
		note := func(pos token.Pos) {
			if name := declared(file, pos); name != "" && !at[name] {
				at[name] = true
				pkg := filepath.ToSlash(filepath.Dir(path))
				found[pkg] = append(found[pkg], name)
			}
		}
		for _, group := range file.Comments {
			if strings.Contains(strings.Join(strings.Fields(strings.ReplaceAll(group.Text(), "\n", " ")), " "), noSource) {
				note(group.End())
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING && strings.Contains(lit.Value, noSource) {
				note(lit.Pos())
			}
			return true
		})
		return nil
	})
	var out []Practised
	for pkg, names := range found {
		slices.Sort(names)
		out = append(out, Practised{pkg, slices.Compact(names)})
	}
	slices.SortFunc(out, func(a, b Practised) int { return strings.Compare(a.Package, b.Package) })
	return out, err
}

// declared names the declaration that a place stands in, or the first after it.
func declared(file *ast.File, pos token.Pos) string {
	for _, d := range file.Decls {
		if d.End() < pos {
			continue
		}
		switch d := d.(type) {
		case *ast.FuncDecl:
			return d.Name.Name
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				if spec.End() < pos && spec != d.Specs[len(d.Specs)-1] {
					continue
				}
				switch s := spec.(type) {
				case *ast.ValueSpec:
					return s.Names[0].Name
				case *ast.TypeSpec:
					return s.Name.Name
				}
			}
		}
	}
	return file.Name.Name
}

// sources parses every Go file under a folder.
func sources(root string, visit func(path string, file *ast.File, set *token.FileSet) error) error {
	seen := 0
	tree := os.DirFS(root)
	err := fs.WalkDir(tree, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name := d.Name(); path != "." && (strings.HasPrefix(name, ".") || name == "node_modules" || name == "testdata" || name == "tools" || name == "bench") {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		text, err := fs.ReadFile(tree, path)
		if err != nil {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, text, parser.ParseComments)
		if err != nil {
			return err
		}
		seen++
		return visit(path, file, set)
	})
	if err == nil && seen == 0 {
		err = fmt.Errorf("no Go file under %s", root)
	}
	return err
}

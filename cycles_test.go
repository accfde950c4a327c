package trunnion_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// mostTangled is how many lines, without tests, a package may have whose files use each
// other both ways: what is larger is read file by file, and a reader has to be able to
// begin with one. Chosen.
const mostTangled = 2000

// exported is the part of `go list -export` that packages are checked with.
type exported struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
	Module                  *struct{ Path string }
}

// mutual returns the pairs of files of a package of which each uses what the other
// declares: its names, its methods or its types' fields.
func mutual(fset *token.FileSet, files []*ast.File, pkg *types.Package, info *types.Info) []string {
	uses := map[[2]string]string{}
	name := func(p token.Pos) string { return filepath.Base(fset.Position(p).Filename) }
	for id, object := range info.Uses {
		if object.Pkg() != pkg || !declared(object) {
			continue
		}
		from, to := name(id.Pos()), name(object.Pos())
		if key := [2]string{from, to}; from != to && (uses[key] == "" || object.Name() < uses[key]) {
			uses[key] = object.Name()
		}
	}
	var pairs []string
	for key, first := range uses {
		if second := uses[[2]string{key[1], key[0]}]; key[0] < key[1] && second != "" {
			pairs = append(pairs, fmt.Sprintf("%s uses %s of %s, which uses its %s", key[0], first, key[1], second))
		}
	}
	slices.Sort(pairs)
	return pairs
}

// declared reports an object that a file of a package declares for the others: a name of
// the package, a method or a field.
func declared(object types.Object) bool {
	switch o := object.(type) {
	case *types.Func:
		return true
	case *types.Var:
		return o.IsField() || o.Parent() == o.Pkg().Scope()
	}
	return object.Parent() == object.Pkg().Scope()
}

// TestLargePackagesHaveNoFileCycles holds packages above mostTangled lines to files that
// use each other one way only.
func TestLargePackagesHaveNoFileCycles(t *testing.T) {
	touchSources(t)
	cmd := exec.CommandContext(t.Context(), "go", "list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,Module", "./...")
	var errText bytes.Buffer
	cmd.Stderr = &errText
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, errText.String())
	}
	exports := map[string]string{}
	var own []exported
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p exported
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if p.Module != nil && p.Module.Path == module {
			own = append(own, p)
		}
	}
	looked := 0
	for _, p := range own {
		fset := token.NewFileSet()
		files, lines := parsed(t, fset, p)
		if lines <= mostTangled {
			continue
		}
		name := strings.TrimPrefix(p.ImportPath, module+"/")
		looked++
		conf := types.Config{Importer: importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
		info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
		pkg, err := conf.Check(p.ImportPath, fset, files, info)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		pairs := mutual(fset, files, pkg, info)
		if len(pairs) > 0 {
			t.Errorf("%s, %d lines: %d pairs of files use each other: split it, or let one of each pair use the other\n\t%s", name, lines, len(pairs), strings.Join(pairs, "\n\t"))
		}
		t.Logf("%s: %d lines, %d files, %d pairs", name, lines, len(files), len(pairs))
	}
	if looked == 0 {
		t.Errorf("no package has more than %d lines: nothing was looked at", mostTangled)
	}
}

// parsed reads the files of a package, without tests, and counts their lines.
func parsed(t *testing.T, fset *token.FileSet, p exported) (files []*ast.File, lines int) {
	t.Helper()
	for _, name := range p.GoFiles {
		file, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
		lines += fset.File(file.FileStart).LineCount() - 1
	}
	return files, lines
}

// TestFileCyclesAreFound shows on made-up files that the test above can fail.
func TestFileCyclesAreFound(t *testing.T) {
	for _, row := range []struct {
		name, a, b string
		want       int
	}{
		{"one way", "func A() { B() }", "func B() {}", 0},
		{"both ways", "func A() { B() }", "func B() {}; func C() { A() }", 1},
		{"by a method", "type A struct{}; func use(a A) { a.m() }", "func (A) m() {}", 1},
		{"by a field", "type A struct{ n int }; var _ = b", "var b = get().n; func get() (a A) { return }", 1},
		{"a local of the same name", "func A() { B() }", "func B() { A := 1; _ = A }", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			fset := token.NewFileSet()
			var files []*ast.File
			for k, text := range []string{row.a, row.b} {
				file, err := parser.ParseFile(fset, fmt.Sprintf("%c.go", 'a'+k), "package p; "+text, 0)
				if err != nil {
					t.Fatal(err)
				}
				files = append(files, file)
			}
			info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
			pkg, err := (&types.Config{}).Check("p", fset, files, info)
			if err != nil {
				t.Fatal(err)
			}
			if got := mutual(fset, files, pkg, info); len(got) != row.want {
				t.Errorf("found %q, want %d pairs", got, row.want)
			}
		})
	}
}

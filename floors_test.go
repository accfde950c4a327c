package trunnion_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// module is the path every package of this repository starts with.
const module = "trunnion"

// ladder is the order of the house. A package imports only from floors below its
// own, never from a neighbour on the same floor, and chassis never imports shop.
// A package listed here need not exist yet; one that exists must be listed. The
// ladder changes in a commit of its own, which says why.
const ladder = `
chassis
 0  geom numeric figure
 1  spread part road comfort counting
 2  linkage dyno
 3  car clicks
 4  corner brief
 5  equilibrium strut stability demo
 6  travel modes cornering scales
 7  screening ride
 8  roadtest study
 9  route
10  drives
11  axles clickmap presets valving
12  finding
13  change
14  remedy search
shop
 0  quantity store/storetest
 1  jobfile wording drawing
 2  answer intake symptom measuring
 3  sheet store levelling
 4  pastjobs
 5  desk
 6  view
 7  view/linkage view/struts view/corners view/ride view/order view/working view/history view/support view/scales view/dampers view/roadtest view/find view/viewtest
 8  view/builds
 9  queue access
10  web
`

// chassisLibraries are the only modules the physics may stand on, and
// chassisTestLibraries those its tests may add.
var (
	chassisLibraries     = []string{"gonum.org/v1/gonum"}
	chassisTestLibraries = []string{"github.com/google/go-cmp", "pgregory.net/rapid"}
)

// chassisShuns are parts of the standard library that would bring files, the
// clock, logs, a network or a wire format into the physics: those belong to shop,
// and times and seeds are passed in.
var chassisShuns = []string{
	"C", "os", "net", "log", "time", "syscall", "database", "testing",
	"encoding/json", "encoding/xml", "encoding/csv", "encoding/gob", "html",
}

// place is where a package stands: its room and its floor in that room.
type place struct {
	room  string
	floor int
}

// listed is the part of `go list -json` that the floors are judged by.
type listed struct {
	ImportPath   string
	Dir          string
	Imports      []string
	TestImports  []string
	XTestImports []string
	// IgnoredGoFiles are left out of Imports by a build constraint; their imports
	// are read from the file, so that no platform is looked over.
	IgnoredGoFiles []string
}

// parseLadder reads the ladder's text into the place of each package path.
func parseLadder(text string) (map[string]place, error) {
	places := map[string]place{}
	room := ""
	for line := range strings.Lines(text) {
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		floor, err := strconv.Atoi(words[0])
		if err != nil {
			if len(words) != 1 {
				return nil, fmt.Errorf("ladder line %q: want a room's name alone, or a floor and its packages", line)
			}
			room = words[0]
			// The room's own package is its map: it stands under floor 0.
			places[module+"/"+room] = place{room, -1}
			continue
		}
		if room == "" || len(words) == 1 {
			return nil, fmt.Errorf("ladder line %q: a floor needs a room above it and a package on it", line)
		}
		for _, name := range words[1:] {
			path := module + "/" + room + "/" + name
			if _, twice := places[path]; twice {
				return nil, fmt.Errorf("ladder names %s twice", path)
			}
			places[path] = place{room, floor}
		}
	}
	return places, nil
}

// climbs returns every breach of the ladder, as sentences, and the number of
// imports it looked at in packages that stand on a floor.
func climbs(packages []listed, places map[string]place) (breaches []string, checked int) {
	add := func(format string, args ...any) { breaches = append(breaches, fmt.Sprintf(format, args...)) }
	for _, p := range packages {
		here, onLadder := places[p.ImportPath]
		if !onLadder {
			if inRoom(p.ImportPath) {
				add("%s stands on no floor: give it one in the ladder, or move it", p.ImportPath)
			}
			continue
		}
		for _, to := range p.Imports {
			checked++
			there, known := places[to]
			switch {
			case here.room == "chassis" && within(to, module+"/shop"):
				add("%s imports %s: chassis never imports shop", p.ImportPath, to)
			case known && there.room == here.room && there.floor == here.floor:
				add("%s imports its neighbour %s: both stand on floor %d", p.ImportPath, to, here.floor)
			case known && there.room == here.room && there.floor > here.floor:
				add("%s on floor %d imports %s on floor %d: an import never climbs", p.ImportPath, here.floor, to, there.floor)
			case here.room == "chassis" && known:
				// A lower floor of the same room.
			case here.room == "chassis" && within(to, module):
				add("%s imports %s: chassis stands on nothing of this module but chassis", p.ImportPath, to)
			case here.room == "chassis" && withinAny(to, chassisShuns):
				add("%s imports %s: no files, clock, log, network or wire format in the physics", p.ImportPath, to)
			case here.room == "chassis" && !standard(to) && !withinAny(to, chassisLibraries):
				add("%s imports %s: chassis stands on the standard library and gonum only", p.ImportPath, to)
			case here.room == "shop" && (within(to, module+"/cmd") || within(to, module+"/reference")):
				add("%s imports %s: commands and published-value tests stand above the shop", p.ImportPath, to)
			}
		}
		if here.room != "chassis" {
			continue
		}
		// Tests of the physics may look at any floor of it (two methods on one
		// floor are compared with each other), but not out of the room.
		for _, to := range slices.Concat(p.TestImports, p.XTestImports) {
			checked++
			switch {
			case within(to, module+"/shop"):
				add("a test of %s imports %s: chassis never imports shop", p.ImportPath, to)
			case !standard(to) && !within(to, module) && !withinAny(to, chassisLibraries) && !withinAny(to, chassisTestLibraries):
				add("a test of %s imports %s: tests of the physics add go-cmp and rapid only", p.ImportPath, to)
			}
		}
	}
	return breaches, checked
}

// inRoom reports whether a path lies in one of the two rooms.
func inRoom(path string) bool {
	return within(path, module+"/chassis") || within(path, module+"/shop")
}

// within reports whether a path is root or lies below it.
func within(path, root string) bool {
	return path == root || strings.HasPrefix(path, root+"/")
}

func withinAny(path string, roots []string) bool {
	return slices.ContainsFunc(roots, func(root string) bool { return within(path, root) })
}

// standard reports whether an import is of the standard library: the first part
// of its path has no dot, and it is not ours.
func standard(path string) bool {
	first, _, _ := strings.Cut(path, "/")
	return !strings.Contains(first, ".") && first != module
}

// listPackages asks the go command for every package of the module.
func listPackages(t *testing.T) []listed {
	t.Helper()
	touchSources(t)
	var errText strings.Builder
	cmd := exec.CommandContext(t.Context(), "go", "list", "-json=ImportPath,Dir,Imports,TestImports,XTestImports,IgnoredGoFiles", "./...")
	cmd.Stderr = &errText
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, errText.String())
	}
	var packages []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return packages
		}
		if err != nil {
			t.Fatalf("go list printed what is not JSON: %v", err)
		}
		for _, name := range p.IgnoredGoFiles {
			file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.ImportsOnly)
			if err != nil {
				t.Fatalf("reading imports: %v", err)
			}
			for _, spec := range file.Imports {
				to, err := strconv.Unquote(spec.Path.Value)
				if err != nil {
					t.Fatalf("%s: import %s: %v", name, spec.Path.Value, err)
				}
				if strings.HasSuffix(name, "_test.go") {
					p.TestImports = append(p.TestImports, to)
				} else {
					p.Imports = append(p.Imports, to)
				}
			}
		}
		packages = append(packages, p)
	}
}

// touchSources looks at every Go file of the module. The go command keeps a test's
// result for as long as the files the test itself looked at stay the same; what
// `go list` reads in a process of its own does not count, and without this the
// ladder would pass from the cache after an import was added.
func touchSources(t *testing.T) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && path != "." && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "node_modules"):
			return filepath.SkipDir
		case strings.HasSuffix(path, ".go"):
			_, err := os.Stat(path)
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatalf("walking the module: %v", err)
	}
}

func TestImportsNeverClimb(t *testing.T) {
	places, err := parseLadder(ladder)
	if err != nil {
		t.Fatal(err)
	}
	breaches, checked := climbs(listPackages(t), places)
	for _, b := range breaches {
		t.Error(b)
	}
	if checked == 0 {
		t.Error("no import was checked: no package stands on the ladder, or go list found none")
	}
	t.Logf("%d imports checked", checked)
}

// TestClimbsAreFound shows on made-up imports that the test above can fail.
func TestClimbsAreFound(t *testing.T) {
	places, err := parseLadder(ladder)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name string
		pkg  listed
		want string // part of the one sentence due; empty where there is no breach
	}{
		{"down two floors", listed{ImportPath: "trunnion/chassis/car", Imports: []string{"trunnion/chassis/part", "math", "gonum.org/v1/gonum/mat"}}, ""},
		{"up", listed{ImportPath: "trunnion/chassis/part", Imports: []string{"trunnion/chassis/car"}}, "never climbs"},
		{"to a neighbour", listed{ImportPath: "trunnion/chassis/travel", Imports: []string{"trunnion/chassis/modes"}}, "neighbour"},
		{"chassis to shop", listed{ImportPath: "trunnion/chassis/study", Imports: []string{"trunnion/shop/quantity"}}, "never imports shop"},
		{"chassis test to shop", listed{ImportPath: "trunnion/chassis/study", XTestImports: []string{"trunnion/shop/jobfile"}}, "never imports shop"},
		{"chassis to a command", listed{ImportPath: "trunnion/chassis/study", Imports: []string{"trunnion/cmd/trunnion"}}, "nothing of this module but chassis"},
		{"chassis to a foreign library", listed{ImportPath: "trunnion/chassis/road", Imports: []string{"github.com/goccy/go-yaml"}}, "gonum only"},
		{"chassis to a test library outside a test", listed{ImportPath: "trunnion/chassis/road", Imports: []string{"pgregory.net/rapid"}}, "gonum only"},
		{"chassis to gonum's plotting module", listed{ImportPath: "trunnion/chassis/road", Imports: []string{"gonum.org/v1/plot"}}, "gonum only"},
		{"chassis test to a test library", listed{ImportPath: "trunnion/chassis/road", TestImports: []string{"pgregory.net/rapid"}}, ""},
		{"chassis test to another library", listed{ImportPath: "trunnion/chassis/road", TestImports: []string{"github.com/alecthomas/kong"}}, "go-cmp and rapid only"},
		{"chassis test to a higher floor", listed{ImportPath: "trunnion/chassis/screening", XTestImports: []string{"trunnion/chassis/ride"}}, ""},
		{"chassis to the clock", listed{ImportPath: "trunnion/chassis/ride", Imports: []string{"time"}}, "clock"},
		{"chassis to files", listed{ImportPath: "trunnion/chassis/ride", Imports: []string{"os/exec"}}, "files"},
		{"on no floor", listed{ImportPath: "trunnion/chassis/helm"}, "stands on no floor"},
		{"nested on no floor", listed{ImportPath: "trunnion/shop/web/pages"}, "stands on no floor"},
		{"shop to chassis", listed{ImportPath: "trunnion/shop/jobfile", Imports: []string{"trunnion/chassis/search", "trunnion/shop/quantity", "github.com/goccy/go-yaml"}}, ""},
		{"a view asks the desk", listed{ImportPath: "trunnion/shop/view/builds", Imports: []string{"trunnion/shop/view", "trunnion/shop/desk"}}, ""},
		{"a view to another", listed{ImportPath: "trunnion/shop/view/corners", Imports: []string{"trunnion/shop/view/struts"}}, "neighbour"},
		{"the desk to a view", listed{ImportPath: "trunnion/shop/desk", Imports: []string{"trunnion/shop/view/builds"}}, "never climbs"},
		{"shop up", listed{ImportPath: "trunnion/shop/store", Imports: []string{"trunnion/shop/web"}}, "never climbs"},
		{"shop to a command", listed{ImportPath: "trunnion/shop/web", Imports: []string{"trunnion/cmd/trunnion"}}, "above the shop"},
		{"outside the rooms", listed{ImportPath: "trunnion/cmd/trunnion", Imports: []string{"trunnion/shop/web", "os"}}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, _ := climbs([]listed{row.pkg}, places)
			switch {
			case row.want == "" && len(got) > 0:
				t.Errorf("found a breach where there is none: %q", got)
			case row.want != "" && (len(got) != 1 || !strings.Contains(got[0], row.want)):
				t.Errorf("got %q, want one sentence with %q in it", got, row.want)
			}
		})
	}
	if _, checked := climbs([]listed{{ImportPath: "trunnion/cmd/trunnion", Imports: []string{"os"}}}, places); checked != 0 {
		t.Errorf("counted %d imports where nothing stands on the ladder, want 0", checked)
	}
}

func TestLadderIsRefused(t *testing.T) {
	for _, text := range []string{
		"0 geom",
		"chassis\n0",
		"chassis\n0 geom\n1 geom",
		"chassis floor geom",
	} {
		if _, err := parseLadder(text); err == nil {
			t.Errorf("ladder %q was accepted", text)
		}
	}
}

package trunnion_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The race detector makes everything many times slower, and sees only what goroutines share. It watches the tests with
// AtOnce in their name (make race), and a package that shares anything has one.
var (
	shares = regexp.MustCompile(`\bgo func\b|\bspread\.Each\(|\.Go\(func|\bsync\.(Mutex|RWMutex|WaitGroup|Map)\b|\batomic\.`)
	atOnce = regexp.MustCompile(`(?m)^func Test\w*AtOnce\w*\(`)
)

func TestWhatIsSharedIsWatched(t *testing.T) {
	watched, looked := map[string]bool{}, map[string]string{}
	for _, root := range []string{"chassis", "shop", "cmd"} {
		err := filepath.WalkDir(root, func(path string, entry os.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			dir := filepath.ToSlash(filepath.Dir(path))
			if strings.HasSuffix(path, "_test.go") {
				watched[dir] = watched[dir] || atOnce.Match(text)
			} else if found := shares.Find(text); found != nil {
				looked[dir] = path + ": " + string(found)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for dir, found := range looked {
		if !watched[dir] {
			t.Errorf("%s shares data between goroutines (%s): no test there with AtOnce in its name runs under the race detector", dir, found)
		}
	}
	if len(looked) < 8 {
		t.Errorf("only %d packages share data: nothing was looked at", len(looked))
	}
}

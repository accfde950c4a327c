package ride

import (
	"flag"
	"go/format"
	"os"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the files of eight lanes anew")

// made are the names that change with the number of lanes.
var made = regexp.MustCompile(`\b(corner|body|freedom|block|row|vec|num|bits|width|fill|load|first|second|step|convoy|convoys|begin|` +
	`advance|bodies|axle|sums|axleMiss|move|limit|tally|ledger|beginTally|stretch|above|add|balance|flow|close|meter|ready|section|` +
	`sections|weigh|windows|result|drive|lay|lost|look|end|positions|logs|positionAt|logAt|bins|masks|clearUpper)4\b`)

// TestEightLanesAreMadeFromFour: the files of eight lanes are those of four with the names changed; only what gathers from
// the tables is written twice.
func TestEightLanesAreMadeFromFour(t *testing.T) {
	for _, part := range []string{"", "metrics", "meter", "run"} {
		from, to := "lanes4"+part+".go", "lanes8"+part+".go"
		text, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		out := "// Code generated from " + from + " by go test -run EightLanes -update. DO NOT EDIT.\n\n" + made.ReplaceAllString(string(text), "${1}8")
		want, err := format.Source([]byte(out))
		if err != nil {
			t.Fatal(err)
		}
		if *update {
			if err := os.WriteFile(to, want, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		got, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		if strings.TrimSpace(string(got)) != strings.TrimSpace(string(want)) {
			t.Errorf("%s is not what %s makes: run go test ./chassis/ride -run EightLanes -update", to, from)
		}
	}
}

package store

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

func init() { children["saver"] = saver }

// killText is a job that says which save it is, of a size that does not fit
// into one page of the database.
func killText(job string, number int) []byte {
	text := jobText("Owner "+strconv.Itoa(number), "P "+job, "C", "p", strconv.Itoa(number))
	return append(text, bytes.Repeat([]byte("# as long as a job is\n"), 700)...)
}

// saver saves jobs and drafts as fast as it can, and says each one that was
// answered, until it is killed.
func saver() int {
	ctx := context.Background()
	s, err := Open(ctx, os.Getenv("TRUNNION_STORE_DIR"), Options{Who: "saver"})
	if err != nil {
		fmt.Fprintln(os.Stderr, "saver:", err)
		return 1
	}
	fmt.Println("open")
	for i := 0; ; i++ {
		job := "job" + strconv.Itoa(i%4)
		head, err := s.Head(ctx, job)
		if err != nil {
			head = Head{ID: job}
		}
		draft := strconv.FormatInt(time.Now().UnixNano(), 10) // grows
		if _, err := s.SaveDraft(ctx, Draft{Person: "Ben", Job: job, Base: head.Revision, Text: []byte(draft)}); err != nil {
			fmt.Fprintln(os.Stderr, "saver:", err)
			return 1
		}
		fmt.Println("draft", job, draft)
		r, err := s.Save(ctx, Change{Job: job, Expected: head.Revision, Who: "Ada", Text: killText(job, head.Revision+1)})
		if err != nil {
			fmt.Fprintln(os.Stderr, "saver:", err)
			return 1
		}
		fmt.Println("saved", job, r.Number, r.SHA256)
	}
}

// A program is killed 200 times during saves by make studies, 20 times by make
// test. Every save that was answered is there afterwards, every revision is whole,
// none is missing in between, and drafts are kept.
func TestKilledDuringSaves(t *testing.T) {
	kills := 20
	if inFull() {
		kills = 200
	}
	dir := t.TempDir()
	saved := map[string]map[int]string{} // answered, by job and number
	drafts := map[string]int64{}         // answered last, by job
	random := rand.New(rand.NewPCG(7, 7))
	during := 0
	for round := range kills {
		answers := killOne(t, dir, random.IntN(16), time.Duration(random.IntN(4000))*time.Microsecond)
		last := ""
		for _, line := range answers {
			word := strings.Fields(line)
			switch {
			case len(word) == 3 && word[0] == "draft":
				typed, err := strconv.ParseInt(word[2], 10, 64)
				if err != nil {
					t.Fatal(err)
				}
				drafts[word[1]], last = typed, "draft"
			case len(word) == 4 && word[0] == "saved":
				number, err := strconv.Atoi(word[2])
				if err != nil {
					t.Fatal(err)
				}
				if saved[word[1]] == nil {
					saved[word[1]] = map[int]string{}
				}
				saved[word[1]][number], last = word[3], "saved"
			}
		}
		if last == "draft" {
			during++ // killed between the answer to the draft and that to the save
		}
		lookAfterKill(t, dir, round, saved, drafts, round%20 == 0 || round == kills-1)
		if t.Failed() {
			return
		}
	}
	total := 0
	for _, numbers := range saved {
		total += len(numbers)
	}
	if total < kills || during < kills/10 {
		t.Errorf("only %d saves were answered and %d kills fell into a save: the test shows nothing", total, during)
	}
	t.Logf("%d kills, %d of them during a save; %d saves answered, all there", kills, during, total)
}

// killOne starts the saver, kills it a while after it has said so many lines, and
// returns what it said in whole lines.
func killOne(t *testing.T, dir string, said int, after time.Duration) []string {
	t.Helper()
	cmd, err := child(t.Context(), "saver", "TRUNNION_STORE_DIR="+dir)
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	in := bufio.NewReader(out)
	line, err := in.ReadString('\n')
	if err != nil || line != "open\n" {
		t.Fatalf("the saver said %q: %v", line, err)
	}
	var lines []string
	for range said {
		line, err := in.ReadString('\n')
		if err != nil {
			t.Fatalf("the saver said %q: %v", line, err)
		}
		lines = append(lines, line)
	}
	time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	rest, err := io.ReadAll(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err == nil || cmd.ProcessState.Exited() {
		t.Fatalf("the saver ended by itself: %v", err)
	}
	more := strings.SplitAfter(string(rest), "\n")
	return append(lines, more[:len(more)-1]...) // the last has no end, and was not said
}

func lookAfterKill(t *testing.T, dir string, round int, saved map[string]map[int]string, drafts map[string]int64, whole bool) {
	t.Helper()
	ctx := t.Context()
	s, err := Open(ctx, dir, Options{})
	if err != nil {
		t.Fatalf("after kill %d: %v", round, err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	for job, numbers := range saved {
		history := must[[]Revision](t)(s.History(ctx, job))
		by := map[int]string{}
		for _, r := range history {
			by[r.Number] = r.SHA256
		}
		if history[0].Number != len(history) {
			t.Errorf("after kill %d: %s has %d revisions and the newest is %d", round, job, len(history), history[0].Number)
		}
		for number, sha := range numbers {
			if by[number] != sha {
				t.Errorf("after kill %d: revision %d of %s, which was answered, is %q", round, number, job, by[number])
			}
		}
		r := must[Revision](t)(s.Job(ctx, job))
		head := must[Head](t)(s.Head(ctx, job))
		if !bytes.Equal(r.Text, killText(job, r.Number)) || head.Revision != r.Number || head.Owner != "Owner "+strconv.Itoa(r.Number) {
			t.Errorf("after kill %d: revision %d of %s is not whole", round, r.Number, job)
		}
	}
	for job, answered := range drafts {
		// A later draft may have been kept and not answered; an older one never.
		d, err := s.Draft(ctx, "Ben", job)
		kept, wrong := strconv.ParseInt(string(d.Text), 10, 64)
		if err != nil || wrong != nil || kept < answered {
			t.Errorf("after kill %d: the draft of %s is %q (%v); answered was %d", round, job, d.Text, err, answered)
		}
	}
	if whole {
		if err := s.Check(ctx); err != nil {
			t.Errorf("after kill %d: %v", round, err)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, databaseName)); err != nil {
		t.Error(err)
	}
}

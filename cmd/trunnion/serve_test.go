package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// both is a writer that two goroutines may use.
type both struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (w *both) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.Write(p)
}

func (w *both) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.String()
}

// served is a server that runs in this process.
type served struct {
	address string
	opened  chan string
	stop    context.CancelFunc
	ended   chan error
	out     *both
}

func startServer(t *testing.T, c serveCommand) *served {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	s := &served{opened: make(chan string, 1), stop: stop, ended: make(chan error, 1), out: &both{}}
	ready := make(chan string, 1)
	go func() {
		s.ended <- c.serve(ctx, streams{strings.NewReader(""), s.out, s.out}, func(a string) error { s.opened <- a; return nil }, func(a string) { ready <- a })
	}()
	select {
	case s.address = <-ready:
	case err := <-s.ended:
		t.Fatalf("the server did not start: %v\n%s", err, s.out)
	case <-time.After(30 * time.Second):
		t.Fatal("the server does not start")
	}
	t.Cleanup(func() { s.end(t) })
	return s
}

func (s *served) end(t *testing.T) {
	t.Helper()
	s.stop()
	select {
	case err := <-s.ended:
		if err != nil {
			t.Errorf("it ended with %v", err)
		}
		s.ended <- nil
	case <-time.After(20 * time.Second):
		t.Error("the server does not stop")
	}
}

func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close() //nolint:errcheck // given back at once
	return l.Addr().String()
}

func fetch(t *testing.T, client *http.Client, method, url, body string) (int, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close() //nolint:errcheck // read whole
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(text)
}

func TestServeBeginsWithTheDemoAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	s := startServer(t, serveCommand{place: place{Data: dir}, Listen: "127.0.0.1:0", Open: true, Units: "metric"})
	if got := <-s.opened; got != s.address || !strings.HasPrefix(got, "http://127.0.0.1:") {
		t.Errorf("the browser was sent to %q, the server is at %q", got, s.address)
	}
	status, text := fetch(t, http.DefaultClient, "GET", s.address+"api/jobs", "")
	if status != 200 || !strings.Contains(text, `"demo":true`) {
		t.Errorf("%d %s", status, text)
	}
	// The open stream must not hold up the end.
	stream, err := http.Get(s.address + "api/events") //nolint:noctx // closed below
	if err != nil {
		t.Fatal(err)
	}
	defer stream.Body.Close() //nolint:errcheck // the server ends it
	start := time.Now()
	s.end(t)
	if took := time.Since(start); took > 15*time.Second {
		t.Errorf("stopping took %s", took)
	}
	if out := s.out.String(); !strings.Contains(out, "everything saved is kept") {
		t.Errorf("it said %q", out)
	}
	// A second start finds the job and makes no second one.
	s = startServer(t, serveCommand{place: place{Data: dir}, Listen: "127.0.0.1:0", Units: "metric"})
	if _, text := fetch(t, http.DefaultClient, "GET", s.address+"api/jobs", ""); !strings.Contains(text, `"total":1`) {
		t.Errorf("after a second start: %s", text)
	}
	select {
	case a := <-s.opened:
		t.Errorf("the browser was opened at %s, though it was not wanted", a)
	default:
	}
}

// TestServeSaysWhatIsWrong starts servers that cannot be.
func TestServeSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	running := startServer(t, serveCommand{place: place{Data: dir}, Listen: freePort(t), Units: "metric"})
	taken := strings.TrimSuffix(strings.TrimPrefix(running.address, "http://"), "/")
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name  string
		c     serveCommand
		words []string
	}{
		{"port taken", serveCommand{place: place{Data: t.TempDir()}, Listen: taken}, []string{taken, "is taken", "--listen"}},
		{"two servers on one folder", serveCommand{place: place{Data: dir}, Listen: "127.0.0.1:0"}, []string{dir, "is in use by", "trunnion serve on " + taken}},
		{"a file in place of the folder", serveCommand{place: place{Data: file}, Listen: "127.0.0.1:0"}, []string{file}},
		{"no port", serveCommand{place: place{Data: dir}, Listen: "127.0.0.1"}, []string{"enter an address and a port"}},
		{"somebody else's address", serveCommand{place: place{Data: t.TempDir()}, Listen: "192.0.2.1:8420"}, []string{"192.0.2.1:8420", "is no address of this machine"}},
		{"the network without a passphrase", serveCommand{place: place{Data: t.TempDir()}, Listen: "0.0.0.0:0"}, []string{"no owner has a passphrase", "trunnion person"}},
		{"a certificate without its key", serveCommand{place: place{Data: t.TempDir()}, Listen: "127.0.0.1:0", Cert: file}, []string{"--cert and --key"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			err := row.c.serve(t.Context(), streams{strings.NewReader(""), io.Discard, io.Discard}, nil, func(string) { t.Error("it started") })
			var st *status
			if !errors.As(err, &st) || st.code != exitUsage {
				t.Fatalf("got %v", err)
			}
			for _, w := range row.words {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

// TestServeOnTheNetwork sets a passphrase, listens beyond the machine, and logs
// in over TLS.
func TestServeOnTheNetwork(t *testing.T) {
	dir := t.TempDir()
	var out, said bytes.Buffer
	code := run([]string{"person", "Olga", "--role", "owner", "--passphrase", "--data", dir}, streams{strings.NewReader("four plain words here\n"), &out, &said})
	if code != exitAnswered || !strings.Contains(out.String(), "Olga, owner, with a passphrase") {
		t.Fatalf("%d: %s%s", code, &out, &said)
	}
	// Who is barred stays barred whatever else is said of them, until they are let in again.
	for _, one := range []struct{ say, want string }{
		{"--role viewer --bar", "viewer, barred"}, {"--role bay", "bay, barred"}, {"--admit", "bay, without a passphrase"},
	} {
		out.Reset()
		code := run(append([]string{"person", "Gone", "--data", dir}, strings.Fields(one.say)...), streams{strings.NewReader(""), &out, &said})
		if code != 0 || !strings.Contains(out.String(), one.want) {
			t.Errorf("person Gone %s: %d, %q, want %q", one.say, code, out.String(), one.want)
		}
	}
	if code := run([]string{"person", "Eve", "--role", "viewer", "--passphrase", "--data", dir}, streams{strings.NewReader("short\n"), &out, &said}); code != exitUsage {
		t.Errorf("a short passphrase: status %d", code)
	}
	s := startServer(t, serveCommand{place: place{Data: dir}, Listen: "0.0.0.0:0", Units: "metric"})
	if !strings.HasPrefix(s.address, "https://") || !strings.Contains(s.out.String(), "SHA-256") {
		t.Fatalf("at %s: %s", s.address, s.out)
	}
	_, port, err := net.SplitHostPort(strings.TrimSuffix(strings.TrimPrefix(s.address, "https://"), "/"))
	if err != nil {
		t.Fatal(err)
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	// The certificate is the workshop's own: a person compares its fingerprint.
	client := &http.Client{Jar: jar, Transport: &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}} //nolint:gosec // see above
	base := fmt.Sprintf("https://127.0.0.1:%s/", port)
	if status, _ := fetch(t, client, "GET", base+"api/jobs", ""); status != 401 {
		t.Errorf("a stranger reads jobs: %d", status)
	}
	if status, text := fetch(t, client, "POST", base+"api/session", `{"person":"Olga","passphrase":"four plain words here"}`); status != 200 {
		t.Fatalf("%d %s", status, text)
	}
	if status, _ := fetch(t, client, "GET", base+"api/jobs", ""); status != 200 {
		t.Errorf("the owner does not: %d", status)
	}
	// Plain HTTP is not spoken there.
	if answer, err := http.Get(fmt.Sprintf("http://127.0.0.1:%s/api/jobs", port)); err == nil { //nolint:noctx // one try
		if answer.StatusCode == 200 {
			t.Error("plain HTTP is answered")
		}
		if err := answer.Body.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestBackupAndRestore(t *testing.T) {
	dir := t.TempDir()
	second := filepath.Join(t.TempDir(), "second")
	s := startServer(t, serveCommand{place: place{Data: dir}, Listen: "127.0.0.1:0", Units: "metric", BackupTo: second})
	do := func(want int, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		if code := run(args, streams{strings.NewReader(""), &out, &out}); code != want {
			t.Fatalf("%v: %d, want %d: %s", args, code, want, &out)
		}
		return out.String()
	}
	// Beside the server that has the folder.
	file := filepath.Join(t.TempDir(), "backup.db")
	do(exitAnswered, "backup", file, "--data", dir)
	// The server makes its first by itself.
	for deadline := time.Now().Add(time.Minute); ; time.Sleep(5 * time.Millisecond) {
		if list, err := filepath.Glob(filepath.Join(second, "*.db")); err == nil && len(list) == 1 {
			break
		}
		if time.Now().After(deadline) {
			t.Fatal("no backup came to the second folder")
		}
	}
	s.end(t)
	for _, how := range []string{"check", "drill"} {
		if out := do(exitAnswered, "backup", how, file); !strings.Contains(out, "1 job, 1 revision") {
			t.Errorf("%s: %q", how, out)
		}
	}
	do(exitUsage, "backup", "check", file+".not")
	do(exitAnswered, "backup", "check", "--data", dir)
	if out := do(exitAnswered, "backup", "list", "--data", dir); !strings.Contains(out, "trunnion-") {
		t.Errorf("the backups are %q", out)
	}
	do(exitUsage, "backup", file, "--data", dir)
	other := filepath.Join(t.TempDir(), "other")
	do(exitAnswered, "restore", file, "--data", other)
	if out := do(exitAnswered, "reindex", "--data", other); !strings.Contains(out, "1 jobs") {
		t.Errorf("got %q", out)
	}
	s = startServer(t, serveCommand{place: place{Data: other}, Listen: "127.0.0.1:0", Units: "metric"})
	if _, text := fetch(t, http.DefaultClient, "GET", s.address+"api/jobs", ""); !strings.Contains(text, "Ollerwick") {
		t.Errorf("after going back: %s", text)
	}
}

func TestDataFolder(t *testing.T) {
	home := func() (string, error) { return "/home/x", nil }
	for _, row := range []struct {
		system string
		env    map[string]string
		want   string
	}{
		{"linux", nil, "/home/x/.local/share/trunnion"},
		{"linux", map[string]string{"XDG_DATA_HOME": "/data"}, "/data/trunnion"},
		{"linux", map[string]string{"XDG_DATA_HOME": "not/whole"}, "/home/x/.local/share/trunnion"},
		{"darwin", nil, "/home/x/Library/Application Support/Trunnion"},
		{"windows", map[string]string{"LocalAppData": "/users/x/local"}, "/users/x/local/Trunnion"},
		{"windows", nil, ""},
	} {
		got, err := dataFolder(row.system, func(k string) string { return row.env[k] }, home)
		if filepath.ToSlash(got) != row.want || (err != nil) != (row.want == "") {
			t.Errorf("%s %v: %q, %v; want %q", row.system, row.env, got, err, row.want)
		}
	}
}

func TestBrowserCommand(t *testing.T) {
	for system, want := range map[string]string{
		"windows": "rundll32 url.dll,FileProtocolHandler http://x/", "darwin": "open http://x/", "linux": "xdg-open http://x/", "freebsd": "xdg-open http://x/",
	} {
		name, args := browserCommand(system, "http://x/")
		if got := strings.Join(append([]string{name}, args...), " "); got != want {
			t.Errorf("%s: %q, want %q", system, got, want)
		}
	}
}

func TestDoubleClickServes(t *testing.T) {
	if got := bare(true); len(got) != 1 || got[0] != "serve" {
		t.Errorf("a double click does %q", got)
	}
	if got := bare(false); len(got) != 1 || got[0] != "--help" {
		t.Errorf("a bare command does %q", got)
	}
}

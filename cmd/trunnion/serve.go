package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"time"

	"trunnion/examples"
	"trunnion/shop/access"
	"trunnion/shop/queue"
	"trunnion/shop/store"
	"trunnion/shop/web"
	"trunnion/ui"
)

type serveCommand struct {
	place
	Listen   string   `help:"Address and port. Beyond this machine's own it asks for passphrases: see trunnion person." default:"127.0.0.1:8420" env:"TRUNNION_LISTEN"`
	Open     bool     `help:"Open the page in the browser." default:"true" negatable:""`
	Units    string   `help:"Units the page begins with." enum:"metric,imperial,mixed" default:"metric" env:"TRUNNION_UNITS"`
	Workshop string   `help:"Name of the workshop, for new jobs." env:"TRUNNION_WORKSHOP"`
	Cert     string   `help:"Certificate of the workshop's own, in PEM; one is made where none is given." type:"existingfile" placeholder:"FILE"`
	Key      string   `help:"Key of that certificate." type:"existingfile" placeholder:"FILE"`
	Host     []string `help:"Another name by which this machine is called on the network." placeholder:"NAME"`
	BackupTo string   `help:"Second folder, on another disk or a share, that every backup is copied to." env:"TRUNNION_BACKUP_TO" placeholder:"DIR"`
}

// opener opens an address in a browser; a test puts its own in its place.
type opener func(address string) error

// Run serves until it is stopped.
func (c *serveCommand) Run(ctx context.Context, s streams) error {
	return c.serve(ctx, s, openBrowser, nil)
}

// serve is Run with what a test replaces: the browser, and a word when the
// server answers.
func (c *serveCommand) serve(ctx context.Context, s streams, open opener, ready func(address string)) error {
	host, _, err := net.SplitHostPort(c.Listen)
	if err != nil {
		return usage("--listen %s: enter an address and a port, such as 127.0.0.1:8420", c.Listen)
	}
	if (c.Cert == "") != (c.Key == "") {
		return usage("--cert and --key go together")
	}
	// A study leaves much behind in a moment: near this much it is taken up sooner, so
	// that the program stays small beside a browser on an office machine. A full answer
	// and what is kept of others are some 150 MB; with little more than that, half of all
	// time went into taking up.
	debug.SetMemoryLimit(768 << 20)
	loopback := isLoopback(host)
	where, err := c.where()
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	// The address first: a second start finds it taken and says so, before it
	// finds the folder locked.
	listener, err := net.Listen("tcp", c.Listen)
	if err != nil {
		return c.cannotListen(err)
	}
	defer listener.Close() //nolint:errcheck // the server closes it; a second time says nothing new
	kept, err := store.Open(ctx, where, store.Options{
		Who: "trunnion serve on " + listener.Addr().String(), BackupEvery: 6 * time.Hour, BackupKeep: 28, BackupTo: c.BackupTo,
		OnTrouble: func(err error) { log.Error("the store", "err", err) },
	})
	if err != nil {
		return serving(err)
	}
	defer func() {
		if err := kept.Close(); err != nil {
			log.Error("the store was not closed", "err", err)
		}
	}()
	for _, note := range kept.Notes() {
		say(s.err, "note: %s\n", note)
	}
	demo, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		return err
	}
	if err := web.Seed(ctx, kept, demo); err != nil {
		return serving(err)
	}
	hosts := []string{"localhost", "127.0.0.1", "::1"}
	var secure *tls.Config
	if !loopback {
		if secure, hosts, err = c.opened(ctx, s, kept, host); err != nil {
			return err
		}
	}
	guard := access.New(access.Options{People: kept, Sessions: kept.Sessions(), Open: loopback, Secure: secure != nil})
	server := web.New(ctx, web.Options{
		Store: kept, Guard: guard, Page: ui.Files(), Version: version, Units: c.Units, Hosts: hosts, Loopback: loopback, TLS: secure != nil,
		Workshop: c.Workshop, Log: log,
		Hands: queue.New(kept, queue.Options{Program: queue.Program(version), Version: version, Here: true, Note: func(text string) { log.Warn(text) }}),
	})
	defer server.Close()
	return c.run(ctx, s, server, listener, secure, open, ready)
}

func isLoopback(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// opened is what listening beyond this machine asks for: a passphrase that was
// set before, and a certificate.
func (c *serveCommand) opened(ctx context.Context, s streams, kept *store.Store, host string) (*tls.Config, []string, error) {
	set, err := access.Set(ctx, kept)
	if err != nil {
		return nil, nil, serving(err)
	}
	if !set {
		return nil, nil, usage("--listen %s opens the jobs to the workshop's network, and no owner has a passphrase yet. Set one first:\n  trunnion person \"Your name\" --role owner --passphrase", c.Listen)
	}
	hosts := access.Hosts(host)
	for _, h := range c.Host {
		hosts = append(hosts, strings.ToLower(h))
	}
	var pair tls.Certificate
	if c.Cert != "" {
		pair, err = tls.LoadX509KeyPair(c.Cert, c.Key)
	} else {
		var dir string
		if dir, err = c.folder(); err == nil {
			if err = os.MkdirAll(dir, 0o700); err == nil {
				pair, err = access.Certificate(dir, hosts, time.Now())
			}
		}
	}
	if err != nil {
		return nil, nil, usage("no certificate: %w", err)
	}
	if c.Cert == "" {
		say(s.err, "The certificate was made by this workshop: each browser asks once whether to trust it. Compare its SHA-256:\n  %s\n", access.Fingerprint(pair))
	}
	return &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12}, hosts, nil
}

// run answers until ctx ends, and then lets what is under way come to its end.
func (c *serveCommand) run(ctx context.Context, s streams, server *web.Server, listener net.Listener, secure *tls.Config, open opener, ready func(string)) error {
	scheme := "http"
	h := &http.Server{
		Handler: server.Handler(), ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 60 * time.Second, WriteTimeout: 120 * time.Second,
		IdleTimeout: 120 * time.Second, MaxHeaderBytes: 64 << 10, ErrorLog: slog.NewLogLogger(slog.NewTextHandler(quiet{}, nil), slog.LevelDebug),
	}
	if secure != nil {
		scheme = "https"
		listener = tls.NewListener(listener, secure)
	}
	address := scheme + "://" + shownHost(listener.Addr()) + "/"
	say(s.out, "Trunnion %s is at %s\nStop it with Ctrl+C.\n", version, address)
	if !ui.Built() {
		say(s.err, "note: the page was not built into this program: build it first with make build\n")
	}
	done := make(chan error, 1)
	go func() { done <- h.Serve(listener) }()
	if ready != nil {
		ready(address)
	}
	if c.Open && open != nil {
		if err := open(address); err != nil {
			say(s.err, "note: the browser was not opened (%v): go to %s yourself\n", err, address)
		}
	}
	select {
	case err := <-done:
		return fmt.Errorf("the server ended: %w", err)
	case <-ctx.Done():
	}
	say(s.out, "Stopping; everything saved is kept.\n")
	server.Close() // the open streams end, so that nobody is waited for
	calm, cancel := context.WithTimeout(context.WithoutCancel(ctx), 8*time.Second)
	defer cancel()
	if err := h.Shutdown(calm); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}

// quiet takes what the standard library's server says of broken connections:
// nobody can do anything about them.
type quiet struct{}

func (quiet) Write(p []byte) (int, error) { return len(p), nil }

var _ io.Writer = quiet{}

// shownHost is an address as it can be typed into a browser.
func shownHost(a net.Addr) string {
	tcp, ok := a.(*net.TCPAddr)
	if !ok {
		return a.String()
	}
	port := strconv.Itoa(tcp.Port)
	if tcp.IP.IsUnspecified() {
		if name, err := os.Hostname(); err == nil {
			return net.JoinHostPort(strings.ToLower(name), port)
		}
	}
	return net.JoinHostPort(tcp.IP.String(), port)
}

// cannotListen says why an address cannot be had, and what to do.
func (c *serveCommand) cannotListen(err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE) || strings.Contains(err.Error(), "Only one usage of each socket address"):
		return usage("%s is taken: another program listens there, perhaps a Trunnion that runs already: look at it in the browser, or name another with --listen 127.0.0.1:8421", c.Listen)
	case errors.Is(err, syscall.EACCES):
		return usage("%s may not be used by this person: ports below 1024 are the system's; name another with --listen 127.0.0.1:8420", c.Listen)
	case errors.Is(err, syscall.EADDRNOTAVAIL):
		return usage("%s is no address of this machine; 127.0.0.1:8420 is this machine alone, 0.0.0.0:8420 every network it is in", c.Listen)
	}
	return usage("%s cannot be listened on: %w", c.Listen, err)
}

// serving is an error of the store as a person can act on it.
func serving(err error) error {
	var trouble *store.Trouble
	if errors.As(err, &trouble) {
		return usage("%s", trouble.Error())
	}
	return err
}

// openBrowser asks the system to show an address.
func openBrowser(address string) error {
	name, args := browserCommand(runtime.GOOS, address)
	path, err := exec.LookPath(name)
	if err != nil {
		return err
	}
	cmd := exec.Command(path, args...) //nolint:gosec,noctx // the address is our own, and the browser outlives us
	if err := cmd.Start(); err != nil {
		return err
	}
	return cmd.Process.Release()
}

// browserCommand is how each system is asked to show an address.
func browserCommand(system, address string) (name string, args []string) {
	switch system {
	case "windows":
		return "rundll32", []string{"url.dll,FileProtocolHandler", address}
	case "darwin":
		return "open", []string{address}
	}
	return "xdg-open", []string{address}
}

package main

import (
	"bufio"
	"context"
	"errors"
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"trunnion/shop/access"
	"trunnion/shop/store"
)

type personCommand struct {
	place
	Name       string `arg:"" help:"Name, as revisions will say it."`
	Role       string `help:"What the person may do: owner, specialist, bay (readings and settings) or viewer." enum:"owner,specialist,bay,viewer," default:""`
	Passphrase bool   `help:"Ask for a new passphrase, or read it from the first line of the input."`
	Bar        bool   `help:"Let the person in no longer. What they saved stays theirs." xor:"door"`
	Admit      bool   `help:"Let a barred person in again." xor:"door"`
}

// Run adds a person, or changes one.
func (c *personCommand) Run(ctx context.Context, s streams) error {
	where, err := c.where()
	if err != nil {
		return err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion person"})
	if err != nil {
		return serving(err)
	}
	return errors.Join(c.change(ctx, s, kept), kept.Close())
}

func (c *personCommand) change(ctx context.Context, s streams, kept *store.Store) error {
	p, err := kept.Person(ctx, c.Name)
	var absent *store.NotFound
	switch {
	case errors.As(err, &absent):
		if c.Role == "" {
			return usage("%s is new here: say what they may do with --role owner, specialist, bay or viewer", c.Name)
		}
		p = store.Person{Name: strings.TrimSpace(c.Name)}
	case err != nil:
		return serving(err)
	}
	if c.Role != "" {
		p.Role = store.Role(c.Role)
	}
	p.Barred = c.Bar || p.Barred && !c.Admit
	if c.Passphrase {
		text, err := readPassphrase(s)
		if err != nil {
			return err
		}
		if p.Passphrase, err = access.Hash(ctx, text); err != nil {
			return usage("%w", err)
		}
	}
	saved, err := kept.SavePerson(ctx, p)
	if err != nil {
		return serving(err)
	}
	state := "without a passphrase: on this machine alone"
	if saved.Passphrase != "" {
		state = "with a passphrase"
	}
	if saved.Barred {
		state = "barred"
	}
	say(s.out, "%s, %s, %s\n", saved.Name, saved.Role, state)
	return nil
}

// readPassphrase asks twice at a terminal, and reads a line elsewhere.
func readPassphrase(s streams) (string, error) {
	file, ok := s.in.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		line, err := bufio.NewReader(io.LimitReader(s.in, 4096)).ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return "", err
		}
		return strings.TrimRight(line, "\r\n"), nil
	}
	ask := func(prompt string) (string, error) {
		say(s.err, "%s", prompt)
		text, err := term.ReadPassword(int(file.Fd()))
		say(s.err, "\n")
		return string(text), err
	}
	first, err := ask("New passphrase: ")
	if err != nil {
		return "", err
	}
	second, err := ask("Once more: ")
	if err != nil {
		return "", err
	}
	if first != second {
		return "", usage("the two are not the same; nothing was changed")
	}
	return first, nil
}

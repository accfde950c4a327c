package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/shop/intake"
	"trunnion/shop/web"
)

const priceList = "part no;rate [N/mm];free length [mm];price\nC-1;60;250;85,5\nC-2;65;250;86\n"

// A list of parts is read alike at the command line and over HTTP, answered or not.
func TestCommandLineAndHTTPAgreeOnLists(t *testing.T) {
	served := startServer(t, serveCommand{place: place{Data: t.TempDir()}, Listen: "127.0.0.1:0", Units: "metric"})
	path := filepath.ToSlash(filepath.Join(t.TempDir(), "list.csv"))
	if err := os.WriteFile(path, []byte(priceList), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, one := range []struct {
		args    []string
		mapping intake.PartsMapping
	}{
		{nil, intake.PartsMapping{Kind: "spring"}},
		{[]string{"--currency", "EUR", "--source", "a maker"}, intake.PartsMapping{Kind: "spring", Currency: "EUR", Source: "a maker"}},
		{[]string{"--kind", "stop", "--column", "1=number", "--column", "3=length"}, intake.PartsMapping{Kind: "stop", Columns: map[string]string{"1": "number", "3": "length"}}},
	} {
		var out, said bytes.Buffer
		if code := run(append([]string{"catalogue", "read", path, "--format", "json"}, one.args...), streams{strings.NewReader(""), &out, &said}); code != exitAnswered {
			t.Errorf("%v ends with %d: %s", one.args, code, said.String())
		}
		options, err := json.Marshal(map[string]any{"file": intake.SweepFile{Name: path, Data: []byte(priceList)}, "mapping": one.mapping})
		if err != nil {
			t.Fatal(err)
		}
		body, err := json.Marshal(web.Ask{With: options})
		if err != nil {
			t.Fatal(err)
		}
		status, got := ask(t, served.address+"/api/ask/catalogue-read", body)
		var a, b any
		if err := json.Unmarshal(out.Bytes(), &a); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(got, &b); err != nil || status != http.StatusOK {
			t.Fatalf("HTTP %d: %.300s", status, got)
		}
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%v differ (-command +HTTP): %s", one.args, cmp.Diff(a, b))
		}
	}
}

// A price list goes into a workshop's catalogue, out of it as a workbook, in again without
// a change, and is what a search chooses from.
func TestAPriceListIntoTheCatalogue(t *testing.T) {
	dir := t.TempDir()
	path, book := filepath.Join(dir, "list.csv"), filepath.Join(dir, "out.xlsx")
	if err := os.WriteFile(path, []byte(priceList), 0o600); err != nil {
		t.Fatal(err)
	}
	data := filepath.Join(dir, "shop")
	for _, one := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"read", path, "--save", "--data", data}, exitUsage, "--currency"},
		{[]string{"read", path, "--currency", "EUR", "--save", "--data", data}, exitAnswered, "Taken into the catalogue: 2 new."},
		{[]string{"write", "--data", data}, exitAnswered, "c-1,C-1,maker 60 N/mm,maker 250 mm,85.5 EUR"},
		{[]string{"write", "--format", "xlsx", "--data", data}, exitUsage, "--out"},
		{[]string{"write", "--format", "xlsx", "--out", book, "--data", data}, exitAnswered, "2 parts in"},
		{[]string{"read", book, "--save", "--data", data}, exitAnswered, "Taken into the catalogue: 2 as they are there already."},
		{[]string{"write", "--kind", "stop", "--data", data}, exitNoAnswer, "no stop yet"},
	} {
		var out, said bytes.Buffer
		code := run(append([]string{"catalogue"}, one.args...), streams{strings.NewReader(""), &out, &said})
		if code != one.code || !strings.Contains(out.String()+said.String(), one.says) {
			t.Errorf("%v ends with %d: %s%s", one.args, code, out.String(), said.String())
		}
	}
	for _, from := range []string{data, book} {
		c := catalogue{Catalogue: from}
		if list, err := c.parts(t.Context()); err != nil || len(list) != 2 {
			t.Errorf("a search chooses from %d springs of %s: %v", len(list), from, err)
		}
	}
	if _, err := (&catalogue{Catalogue: path}).parts(t.Context()); err == nil || !strings.Contains(err.Error(), "catalogue read") {
		t.Errorf("a list that names no currency: %v", err)
	}
}

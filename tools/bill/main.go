// Command bill says what a built program is made of: each module linked into it and each
// package of its page, with version, checksum and licence, as a CycloneDX bill of
// materials. A licence that is not on the list below, or that nobody can tell, is a
// failure: somebody has to read it first.
package main

import (
	"bytes"
	"debug/buildinfo"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/CycloneDX/cyclonedx-go"
	classifier "github.com/google/licenseclassifier/v2"
	"github.com/google/licenseclassifier/v2/assets"
)

// allowed are the licences, by their SPDX names, under which a part of a program that is
// itself under Apache-2.0 may be handed on. MPL-2.0: unchanged, with its notice.
var allowed = []string{"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "MIT", "MPL-2.0", "OFL-1.1"}

// read are licences that somebody has read because no text stands where a program can
// find it, by module.
var read = map[string]string{}

// sure is how much of a licence's text has to be found. Chosen.
const sure = 0.9

func main() {
	program := flag.String("program", "", "the built program")
	lock := flag.String("page", "", "the page's package-lock.json")
	out := flag.String("out", "", "file to write; none: only look at the licences")
	flag.Parse()
	list, err := linked(*program)
	if err == nil {
		var page []cyclonedx.Component
		page, err = bundled(*lock)
		list = append(list, page...)
	}
	if err == nil {
		err = refuse(list)
	}
	if err == nil && *out != "" {
		err = write(*out, *program, list)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bill:", err)
		os.Exit(1)
	}
	counts := map[string]int{}
	for i := range list {
		counts[licenceOf(&list[i])]++
	}
	fmt.Println(len(list), "parts:", counts)
}

// linked are the modules in a program, Go's own library among them.
func linked(program string) ([]cyclonedx.Component, error) {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return nil, err
	}
	dirs, err := folders()
	if err != nil {
		return nil, err
	}
	known, err := assets.DefaultClassifier()
	if err != nil {
		return nil, err
	}
	goVersion := strings.TrimPrefix(strings.Fields(info.GoVersion)[0], "go")
	list := []cyclonedx.Component{component("std", goVersion, "pkg:golang/std@"+goVersion, "BSD-3-Clause", "")}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		licence, found := read[m.Path]
		if !found {
			if licence, err = told(known, dirs[m.Path+"@"+m.Version]); err != nil {
				return nil, fmt.Errorf("%s: %w", m.Path, err)
			}
		}
		list = append(list, component(m.Path, m.Version, "pkg:golang/"+m.Path+"@"+m.Version, licence, m.Sum))
	}
	return list, nil
}

// folders are where the sources of the modules lie of the program in whose folder it runs,
// by path and version.
func folders() (map[string]string, error) {
	cmd := exec.Command("go", "list", "-m", "-json", "all")
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	dirs := map[string]string{}
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var m struct{ Path, Version, Dir string }
		if err := dec.Decode(&m); err == io.EOF {
			return dirs, nil
		} else if err != nil {
			return nil, err
		}
		dirs[m.Path+"@"+m.Version] = m.Dir
	}
}

// told is the licence that the texts of a folder are surest to be; empty where none is.
func told(known *classifier.Classifier, dir string) (string, error) {
	best, name := 0.0, ""
	for _, pattern := range []string{"LICEN[SC]E*", "COPYING*", "licen[sc]e*"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return "", err
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				continue // a folder of licences
			}
			for _, m := range known.Match(text).Matches {
				if m.MatchType == "License" && m.Confidence > best {
					best, name = m.Confidence, m.Name
				}
			}
		}
	}
	if best < sure {
		return "", nil
	}
	return name, nil
}

// bundled are the packages that are built into the page: those of its lock file that are
// not for development alone.
func bundled(lock string) ([]cyclonedx.Component, error) {
	text, err := os.ReadFile(lock)
	if err != nil {
		return nil, err
	}
	var all struct {
		Packages map[string]struct {
			Version, License, Integrity string
			Dev                         bool
		}
	}
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, fmt.Errorf("%s: %w", lock, err)
	}
	var list []cyclonedx.Component
	for path, p := range all.Packages {
		const folder = "node_modules/"
		if at := strings.LastIndex(path, folder); at >= 0 && !p.Dev {
			name := path[at+len(folder):]
			list = append(list, component(name, p.Version, "pkg:npm/"+strings.Replace(name, "@", "%40", 1)+"@"+p.Version, p.License, p.Integrity))
		}
	}
	slices.SortFunc(list, func(a, b cyclonedx.Component) int { return strings.Compare(a.BOMRef, b.BOMRef) })
	return list, nil
}

func component(name, version, address, licence, sum string) cyclonedx.Component {
	c := cyclonedx.Component{
		BOMRef: address, Type: cyclonedx.ComponentTypeLibrary, Name: name, Version: version, PackageURL: address,
		Licenses: &cyclonedx.Licenses{{License: &cyclonedx.License{ID: licence}}},
	}
	if sum != "" {
		c.Properties = &[]cyclonedx.Property{{Name: "checksum", Value: sum}}
	}
	return c
}

func licenceOf(c *cyclonedx.Component) string { return (*c.Licenses)[0].License.ID }

// refuse names every part whose licence is not allowed.
func refuse(list []cyclonedx.Component) error {
	var bad []string
	for i := range list {
		if licence := licenceOf(&list[i]); !slices.Contains(allowed, licence) {
			bad = append(bad, fmt.Sprintf("%s %s: %q", list[i].Name, list[i].Version, licence))
		}
	}
	if len(bad) > 0 {
		return fmt.Errorf("licences that nobody has allowed:\n\t%s", strings.Join(bad, "\n\t"))
	}
	return nil
}

// write writes the bill. It holds no date and no serial number of its own: of the same
// program it is the same, byte for byte.
func write(out, program string, list []cyclonedx.Component) error {
	bom := cyclonedx.NewBOM()
	bom.Metadata = &cyclonedx.Metadata{Component: &cyclonedx.Component{
		Type: cyclonedx.ComponentTypeApplication, Name: filepath.Base(program),
		Licenses: &cyclonedx.Licenses{{License: &cyclonedx.License{ID: "Apache-2.0"}}},
	}}
	bom.Components = &list
	file, err := os.Create(out)
	if err != nil {
		return err
	}
	encoder := cyclonedx.NewBOMEncoder(file, cyclonedx.BOMFileFormatJSON)
	encoder.SetPretty(true)
	if err := encoder.Encode(bom); err != nil {
		return err
	}
	return file.Close()
}

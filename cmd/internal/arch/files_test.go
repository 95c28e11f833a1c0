package arch

import (
	"go/parser"
	"go/token"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"
)

func TestLength(t *testing.T) {
	for _, name := range files(t) {
		if path.Ext(name) == ".go" {
			if wrong := tooLong(read(t, name)); wrong != "" {
				t.Errorf("%s: %s", name, wrong)
			}
		}
	}
	if tooLong([]byte(strings.Repeat("\n", longest))) != "" || tooLong([]byte(strings.Repeat("\n", longest+1))) == "" {
		t.Errorf("the limit is not at %d lines", longest)
	}
}

func TestPackageComments(t *testing.T) {
	told := map[string]bool{}
	for name, f := range sources(t) {
		if !isTest(name) {
			told[path.Dir(name)] = told[path.Dir(name)] || commented(f)
		}
	}
	for _, pkg := range slices.Sorted(maps.Keys(told)) {
		if !told[pkg] {
			t.Errorf("package %s has no comment", pkg)
		}
	}
	for src, want := range map[string]bool{
		"package a": false, "// Other words.\npackage a": false, "// Package a parts air.\n\npackage a": false,
		"// Package a parts air.\npackage a": true, "// Command b does it.\npackage main": true,
	} {
		f, err := parser.ParseFile(token.NewFileSet(), "x.go", src, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		if commented(f) != want {
			t.Errorf("%q: comment %v, want %v", src, !want, want)
		}
	}
}

func TestForeignWords(t *testing.T) {
	for _, name := range files(t) {
		if w := foreignIn(read(t, name)); w != "" {
			t.Errorf("%s holds %q", name, w)
		}
	}
	for text, want := range map[string]bool{
		"see sha" + "red/x": true, "as physics" + ".md says": true, "of issue" + " 12": true, "fixes #" + "7.": true,
		"README.md": false, "# 7 machines": false, "a colour #102030": false, "sha" + "red/\x00": false,
	} {
		if got := foreignIn([]byte(text)); (got != "") != want {
			t.Errorf("%q: found %q", text, got)
		}
	}
}

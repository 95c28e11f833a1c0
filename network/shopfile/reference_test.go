package shopfile

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestReference: the reference decodes, and shows every key that the decoder
// knows of each set of keys: given, or in a comment after "or".
func TestReference(t *testing.T) {
	d := newDecoder("reference.yaml", Reference(), builtin(t))
	known, given := map[string][]string{}, map[string]map[string]bool{}
	d.read = func(f *fields, keys []string) {
		id := strings.Join(keys, ", ")
		if known[id] = keys; given[id] == nil {
			given[id] = map[string]bool{}
		}
		for k := range f.given {
			given[id][k] = true
		}
	}
	f, err := d.decode(Reference())
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range f.Warnings {
		t.Log(w)
	}
	inComment := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)# .*\bor\b.*$`).FindAllString(string(Reference()), -1) {
		for _, k := range regexp.MustCompile(`([a-z][a-z ]*): `).FindAllStringSubmatch(m, -1) {
			words := strings.Fields(k[1])
			for i := range words { // "or density: 1.2": the key is the end of the words
				inComment[strings.Join(words[i:], " ")] = true
			}
		}
	}
	names := append(d.catalog.Names(), f.rewriter().partNames()...)
	for id, keys := range known {
		if !slices.ContainsFunc(keys, func(k string) bool { return !slices.Contains(names, k) }) {
			continue // keys are names
		}
		for _, k := range keys {
			if !given[id][k] && !inComment[k] {
				t.Errorf("%q of {%s} is not shown", k, id)
			}
		}
	}
	if len(known) < 30 {
		t.Errorf("only %d sets of keys seen", len(known))
	}
}

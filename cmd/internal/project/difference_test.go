package project

import (
	"os"
	"strings"
	"testing"

	"wyewright/optimize"
)

// set is the project with values changed.
func set(t *testing.T, p *Project, changes ...string) *Project {
	t.Helper()
	f := p.File
	for _, c := range changes {
		where, value, _ := strings.Cut(c, "=")
		name, key, _ := strings.Cut(where, ".")
		var err error
		if f, err = f.Set(name, key, value); err != nil {
			t.Fatal(err)
		}
	}
	q, err := New(f, p.Catalog, os.DirFS("../../../testdata/shops"))
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// TestDifferencePriced: what is set costs what the same choice costs in a
// redesign, and is whole only where the redesign settles all of it.
func TestDifferencePriced(t *testing.T) {
	p := load(t, "school.yaml")
	for _, c := range []struct {
		changes []string
		like    Settled
		seal    bool
		whole   bool
	}{
		{[]string{"main 2.size=160 mm"}, Settled{Size: "160 mm", Runs: []string{"main 2"}}, false, true},
		{[]string{"main 2.size=160 mm", "main 3.size=160 mm"}, Settled{Size: "160 mm", Runs: []string{"main 2", "main 3"}}, false, true},
		{[]string{"cap.area=0 cm2"}, Settled{}, true, false},
		{[]string{"planer.flow=700 m3/h"}, Settled{}, false, false}, // what is asked costs nothing
		{[]string{"planer.dust=shavings", "planer.dust=chips"}, Settled{}, false, true},
	} {
		o, other, err := p.Difference(t.Context(), set(t, p, c.changes...))
		if err != nil || len(other) > 0 {
			t.Errorf("%q: %v, %q", c.changes, err, other)
			continue
		}
		like := option(t, p, c.like)
		for i := range like.Problem.Choices {
			if c.seal && like.Problem.Choices[i].Kind == optimize.SealChoice && like.Problem.Choices[i].ID == "cap" {
				like.Pick[i] = 1
			}
		}
		want, _, _ := like.Problem.Cost(like.Pick)
		if got, _, _ := o.Problem.Cost(o.Pick); got != want || o.Whole != c.whole || (want == 0) != (c.like.Size == "" && !c.seal) {
			t.Errorf("%q: costs %d, whole %v; want %d, %v", c.changes, got, o.Whole, want, c.whole)
		}
	}
}

// TestDifferenceUnpriced: what has no price is named.
func TestDifferenceUnpriced(t *testing.T) {
	p := load(t, "school.yaml")
	for change, want := range map[string]string{
		"main 1.length=9 m":              "length, losses or gate of main 1",
		"cap.area=3 cm2":                 "the leak cap",
		"yard unit.inlet=250 mm":         "the collector",
		"planer hose.family=dust spiral": "planer hose, which a redesign would not make so",
		"seams at J1.area=0 cm2":         "the leak seams at J1",
	} {
		o, other, err := p.Difference(t.Context(), set(t, p, change))
		if err != nil || strings.Join(other, "; ") != want || o != nil && o.Whole {
			t.Errorf("%s: %q, %v; want %q", change, other, err, want)
		}
	}
	if o, other, err := p.Difference(t.Context(), load(t, "annex.yaml")); err != nil || o != nil || strings.Join(other, "; ") != "the ways of the ducts" {
		t.Errorf("another shop: %v, %q, %v", o, other, err)
	}
	if o, other, err := p.Difference(t.Context(), load(t, "joiner.yaml")); err != nil || o != nil || len(other) != 1 {
		t.Errorf("a ring: %v, %q, %v", o, other, err)
	}
}

package project

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
)

// TestFitEdits: from the demo shops as if their leaks were not known, the file
// that the fit writes reads back as the shop that was fitted: the flows agree in
// every state within what rounding to three decimals does, comments stay, and
// the redesign can be formulated from it, its openings on offer to be sealed.
func TestFitEdits(t *testing.T) {
	for _, name := range []string{"school.yaml", "instrument.yaml", "coop.yaml"} {
		dir := os.DirFS("../../../testdata/shops")
		p := load(t, name)
		src := string(p.File.Source())
		from := strings.Index(src, "\nleaks:")
		end := from + strings.Index(src[from:], "\n\n")
		f, err := shopfile.Decode(name, []byte(src[:from]+src[end:]), p.Catalog)
		if err != nil {
			t.Fatal(err)
		}
		if p, err = New(f, p.Catalog, dir); err != nil {
			t.Fatal(err)
		}
		rs, err := p.Readings()
		if err != nil {
			t.Fatal(err)
		}
		r, err := calibrate.Find(t.Context(), &p.File.Spec, rs, calibrate.Need{})
		if err != nil {
			t.Fatal(err)
		}
		e, _ := p.FitEdits(r, "head")
		text, err := p.File.Rewrite(e)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for line := range strings.SplitSeq(string(f.Source()), "\n") {
			if c := strings.TrimSpace(line); strings.HasPrefix(c, "#") && !strings.Contains(string(text), c) {
				t.Errorf("%s: the comment %q is gone", name, c)
			}
		}
		g, err := shopfile.Decode(name, text, p.Catalog)
		if err != nil {
			t.Fatal(err)
		}
		sameFlows(t, name, r.Fitted(), g.Spec, f.States)
		q, err := New(g, p.Catalog, dir)
		if err != nil {
			t.Fatal(err)
		}
		problem, err := q.Problem()
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range e.Openings {
			if !slices.ContainsFunc(g.Seals, func(s shopfile.Seal) bool { return s.Leak == l.ID && s.Allowed }) {
				t.Errorf("%s: %s may not be sealed", name, l.ID)
			}
		}
		if len(e.Openings) == 0 || len(problem.Choices) == 0 {
			t.Errorf("%s: %d openings, %d choices", name, len(e.Openings), len(problem.Choices))
		}
	}
}

// sameFlows compares two shops in states.
func sameFlows(t *testing.T, name string, a, b network.Spec, states []network.State) {
	t.Helper()
	na, err := network.New(a)
	if err != nil {
		t.Fatal(err)
	}
	nb, err := network.New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, st := range states {
		x, err := network.Solve(t.Context(), na, st)
		if err != nil {
			t.Fatal(err)
		}
		y, err := network.Solve(t.Context(), nb, st)
		if err != nil {
			t.Fatal(err)
		}
		for i := range x.Runs {
			if p, q := float64(x.Runs[i].Flow), float64(y.Runs[i].Flow); math.Abs(p-q) > 2e-3*float64(x.Collector.Flow) {
				t.Errorf("%s, %s: %s carries %g as fitted, %g by the file", name, st.Name, a.Runs[i].ID, p, q)
			}
		}
	}
}

// TestFitEditsOfEveryKind: what a finding becomes in the file: a blocked run
// and a narrow one are written into their run, a gate left open is not.
func TestFitEditsOfEveryKind(t *testing.T) {
	p := load(t, "school.yaml")
	find := func(k calibrate.Kind, i int, x float64) calibrate.Finding {
		return calibrate.Finding{Reading: -1, Estimate: calibrate.Estimate{Param: calibrate.Param{Kind: k, Index: i, Name: "it"}, Value: x}}
	}
	r := &calibrate.Report{Findings: []calibrate.Finding{find(calibrate.ExtraLoss, 1, 3.2), find(calibrate.Bore, 1, 0.9), find(calibrate.GateLeft, 0, 20e-4)}}
	e, notes := p.FitEdits(r, "head")
	text, err := p.File.Rewrite(e)
	if err != nil {
		t.Fatal(err)
	}
	g, err := shopfile.Decode("school.yaml", text, p.Catalog)
	if err != nil {
		t.Fatal(err)
	}
	was, is := p.File.Spec.Runs[1], g.Spec.Runs[1]
	last := len(was.Pieces) - 1
	if got := is.Pieces[last].K - was.Pieces[last].K; math.Abs(got-3.2) > 1e-9 {
		t.Errorf("extra loss %g, want 3.2", got)
	}
	if got := float64(is.Pieces[last].Diameter / was.Pieces[last].Diameter); math.Abs(got-0.9) > 1e-3 {
		t.Errorf("%g of the width, want 0.9", got)
	}
	if is.New || len(notes) != 3 || !strings.Contains(strings.Join(notes, "\n"), "taken as shut again") {
		t.Errorf("new %v, notes %q", is.New, notes)
	}
}

package loss

import (
	"slices"
	"sort"
	"testing"
)

// Every source says what it is and where in it to look; none stands twice.
func TestSources(t *testing.T) {
	all := Sources()
	for i, s := range all {
		if s.Work == "" || s.Locator == "" {
			t.Errorf("source %d lacks a work or a locator: %+v", i, s)
		}
		if slices.Index(all, s) != i {
			t.Errorf("source %q stands twice", s.Work)
		}
	}
	all[0].Work = "changed"
	if Sources()[0].Work == "changed" {
		t.Error("the caller must own the list")
	}
}

// Every table ascends in its argument and names a source that is listed.
func TestTables(t *testing.T) {
	tables := []table{elbowAngle, mitre, contraction, hoodTaper, gateLn}
	tables = append(tables, elbow90[:]...)
	for i, tab := range tables {
		if !slices.Contains(Sources(), tab.source) {
			t.Errorf("table %d: source %q is not listed", i, tab.source.Work)
		}
		if !sort.SliceIsSorted(tab.points, func(a, b int) bool { return tab.points[a].x < tab.points[b].x }) {
			t.Errorf("table %d does not ascend", i)
		}
	}
	for _, k := range EntryTable() {
		if !slices.Contains(Sources(), k.Source) {
			t.Errorf("entry %q: source is not listed", k.Name)
		}
	}
	for _, c := range leakClasses {
		if !slices.Contains(Sources(), c.source) {
			t.Errorf("class %q: source is not listed", c.name)
		}
	}
}

// The solver calls these millions of times: none may allocate.
func TestNoAllocation(t *testing.T) {
	w := NewWye(0.8, 1, 1, 45)
	calls := map[string]func(){
		"Friction":           func() { sink, _ = Friction(1e5, 1e-3) },
		"FrictionFlow":       func() { sink, _ = FrictionFlow(3000, 1e-3) },
		"SwameeJain":         func() { sink, _ = SwameeJain(1e5, 1e-3) },
		"Churchill":          func() { sink = Churchill(1e5, 1e-3) },
		"HawthorneHose":      func() { sink = HawthorneHose(0.1, 0.01) },
		"Elbow":              func() { sink, _ = Elbow(FivePiece, 1.2, 50) },
		"Taper":              func() { sink = Taper(0.1, 0.15, 30) },
		"Entry":              func() { sink, _ = Entry("bellmouth") },
		"HoodTaper":          func() { sink, _ = HoodTaper(70) },
		"CoefficientOfEntry": func() { sink = CoefficientOfEntry(0.5) },
		"NewWye":             func() { w = NewWye(0.8, 0.9, 1, 45) },
		"Wye.Branch":         func() { sink, _ = w.Branch(0.4) },
		"Wye.Through":        func() { sink, _ = w.Through(0.4) },
		"Wye.BranchRange":    func() { sink, _ = w.BranchRange(0.1, 0.9) },
		"Wye.ThroughRange":   func() { sink, _ = w.ThroughRange(0.1, 0.9) },
		"Gate":               func() { sink = Gate(0.6) },
		"OrificeFlow":        func() { sink, _ = OrificeFlow(0.62, 1e-4, 500, 1.2) },
		"SurfaceLeak":        func() { sink, _ = SurfaceLeak(1e-5, 500) },
		"LeakClass":          func() { sink, _ = LeakClass("ATC6") },
		"SMACNAClass":        func() { sink = SMACNAClass(12) },
	}
	for name, f := range calls {
		if n := testing.AllocsPerRun(50, f); n != 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
}

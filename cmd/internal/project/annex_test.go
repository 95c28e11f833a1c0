package project

import (
	"testing"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// TestAnnexShortcut: the demo shop with corridors is one in which the way
// matters. As it stands it falls short; the least plan along its old ways costs
// 1724.86 EUR, and 717.26 EUR once the annex is joined along two of the corridors
// by an edit of the file, its duct there at the cost of any other. Both are
// pinned and proved optimal.
func TestAnnexShortcut(t *testing.T) {
	p := load(t, "annex.yaml")
	pipe, err := p.File.Piece("dust spiral", "100 mm", 0)
	if err != nil {
		t.Fatal(err)
	}
	out, err := p.File.Rewrite(shopfile.Edits{RemoveRuns: []string{"main 3"}, AddRuns: []shopfile.NewRun{{ID: "through the wall", From: "J3", To: "J1",
		Via: []network.Vec{{X: 9.5, Y: 0.5, Z: 2.7}}, Pieces: []network.Piece{pipe}, Corridors: []string{"through the wall", "south wall"}}}})
	if err != nil {
		t.Fatal(err)
	}
	short, err := shopfile.Decode("short.yaml", out, p.Catalog)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		file *shopfile.File
		want price.Money
	}{{p.File, 172486}, {short, 71726}} {
		c.file.Redesign.May.Routes, c.file.Redesign.May.Collector = false, false
		q, err := New(c.file, p.Catalog, p.Folder)
		if err != nil {
			t.Fatal(err)
		}
		problem, err := q.Problem()
		if err != nil {
			t.Fatal(err)
		}
		r, err := optimize.Solve(t.Context(), problem, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != optimize.Optimal || r.Best.Cost != c.want {
			t.Errorf("%s: %v at %d, want optimal at %d", c.file.Path(), r.Status, r.Best.Cost, c.want)
		}
	}
}

package shopfile

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wyewright/network"
)

// TestRandomRoutes: of every demo shop without loops, and of the shops of the
// other tests, a run is taken out, the part that it cuts off is joined to the
// rest at other points, and the runs on the way between are turned. Whatever the
// file says of them, the text written reads back: Rewrite checks that itself.
func TestRandomRoutes(t *testing.T) {
	rounds := 25
	if *long {
		rounds = 2000
	}
	shopFiles := []*File{decodeText(t, []byte(tangle)), decodeText(t, Starter())}
	for _, path := range demos(t) {
		if f := decodeFile(t, path); filepath.Base(path) != "joiner.yaml" { // a ring
			shopFiles = append(shopFiles, f)
		}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	turned, struck := 0, 0
	for _, f := range shopFiles {
		for k := range rounds {
			e := randomRoute(t, rng, f)
			out, err := f.Rewrite(e)
			if err != nil {
				t.Fatalf("%s, round %d: %v\n%s\n%+v", f.Path(), k, err, out, e)
			}
			turned += len(e.TurnRuns)
			struck += strings.Count(string(out), struckMark)
			g := decodeText(t, out)
			if _, err := network.New(g.Spec); err != nil {
				t.Fatalf("%s, round %d: makes no network: %v\n%s", f.Path(), k, err, out)
			}
		}
	}
	if most := len(shopFiles) * rounds; turned < most/2 || struck < most {
		t.Errorf("%d runs turned and %d members struck in %d shops: the test has no bite", turned, struck, most)
	}
}

// randomRoute takes a run out of a tree and joins what it cut off elsewhere.
func randomRoute(t *testing.T, rng *rand.Rand, f *File) Edits {
	t.Helper()
	runs := f.Spec.Runs
	cut := runs[rng.IntN(len(runs))]
	next := map[string]network.Run{}
	for _, r := range runs {
		next[r.From] = r
	}
	// behind are the points that the run cuts off.
	var behind, rest []string
	for _, p := range f.Spec.Points {
		at := p.ID
		for at != cut.From && next[at].To != "" {
			at = next[at].To
		}
		if at == cut.From {
			behind = append(behind, p.ID)
		} else {
			rest = append(rest, p.ID)
		}
	}
	for _, p := range f.CorridorPoints {
		if p.Placed {
			rest = append(rest, p.ID)
		}
	}
	e := Edits{RemoveRuns: []string{cut.ID}}
	from := behind[rng.IntN(len(behind))]
	for at := from; at != cut.From; at = next[at].To {
		e.TurnRuns = append(e.TurnRuns, next[at].ID)
	}
	add := func(from, to string) {
		n := NewRun{ID: fmt.Sprintf("new %d", len(e.AddRuns)), From: from, To: to, Length: 4,
			Pieces: []network.Piece{piece(t, f, "hose", "100 mm", 1), piece(t, f, "dust spiral", "100 mm", 0)}}
		if rng.IntN(2) == 0 {
			n.Via = []network.Vec{{X: 1.25, Y: rng.Float64(), Z: 30}}
		}
		for _, c := range f.Corridors {
			if rng.IntN(2) == 0 {
				n.Corridors = append(n.Corridors, c.ID)
			}
		}
		if len(n.Corridors) > 0 && rng.IntN(2) == 0 && !slices.ContainsFunc(e.AddRuns, func(x NewRun) bool { return x.ID == n.Corridors[0] }) {
			n.ID = n.Corridors[0]
		}
		e.AddRuns = append(e.AddRuns, n)
	}
	for _, r := range runs {
		if r.ID != cut.ID && rng.IntN(6) == 0 {
			e.Runs = append(e.Runs, RunEdit{Run: r.ID, Keep: rng.IntN(2) == 0,
				Pieces: []network.Piece{piece(t, f, "dust spiral", "125 mm", 2), piece(t, f, "hose", "125 mm", 0.5)}})
		}
	}
	to := rest[rng.IntN(len(rest))]
	add(from, to)
	if next[to].To == "" && to != f.Spec.Collectors[0].At {
		add(to, f.Spec.Collectors[0].At) // a point that only corridors knew
	}
	if rng.IntN(2) == 0 {
		e.Bleeds = []network.Bleed{{ID: "built", At: from, Size: "100 mm", Diameter: 0.1, K: 1.5}}
	}
	if rng.IntN(3) == 0 && len(f.CollectorOptions) > 0 {
		e.Collector = &f.CollectorOptions[rng.IntN(len(f.CollectorOptions))]
	}
	return e
}

package plots

import (
	"bytes"
	"errors"
	"flag"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// school is an invented shop of thirteen runs; the numbers are of no matter.
func schoolPlan() PlanData {
	run := func(name string, d float64, changed, hose bool, label string, path ...[3]float64) PlanRun {
		return PlanRun{Name: name, Path: path, Diameter: d, Changed: changed, Hose: hose, Label: label}
	}
	return PlanData{Unit: "m", Collector: PlanMark{"yard unit", [3]float64{-2, 4.5, 1.5}},
		Runs: []PlanRun{
			run("main 1", 200, false, false, "", [3]float64{1.5, 4.5, 3}, [3]float64{-2, 4.5, 3}, [3]float64{-2, 4.5, 1.5}),
			run("main 2", 180, true, false, "200 mm → 180 mm", [3]float64{4.5, 4.5, 3}, [3]float64{1.5, 4.5, 3}),
			run("main 3", 180, false, false, "", [3]float64{7, 4.5, 3}, [3]float64{4.5, 4.5, 3}),
			run("planer hose", 125, true, true, "100 mm → 125 mm", [3]float64{3.5, 0.8, 1.2}, [3]float64{3.5, 2.4, 1.2}, [3]float64{1.5, 2.4, 1.2}, [3]float64{1.5, 4.5, 3}),
			run("bandsaw drop", 120, false, false, "", [3]float64{7, 7.2, 1.1}, [3]float64{7, 7.2, 3}, [3]float64{7, 4.5, 3}),
		},
		Tools:  []PlanMark{{"planer", [3]float64{3.5, 0.8, 1.2}}, {"bandsaw", [3]float64{7, 7.2, 1.1}}},
		Bleeds: []PlanMark{{"bleed J5", [3]float64{7, 4.5, 3}}},
		Joints: [][3]float64{{1.5, 4.5, 3}, {4.5, 4.5, 3}, {7, 4.5, 3}}}
}

// figures are one example of each picture.
func figures() map[string]func() (*Figure, error) {
	states := []string{"planer", "saw bench", "bandsaw", "class"}
	velocity := VelocityData{Unit: "m/s", Runs: []string{"main 1", "main 2", "drop"}, States: states, Ceiling: 30}
	for _, name := range []string{"before", "after"} {
		velocity.Panels = append(velocity.Panels, VelocityPanel{Name: name, Cells: [][]VelocityCell{
			{{15.5, 17.8, true}, {20.1, 17.8, true}, {19.8, 17.8, true}, {22.4, 17.8, true}},
			{{8.9, 0, false}, {19.7, 17.8, true}, {31.5, 17.8, true}, {17.4, 17.8, true}},
			{{17.2, 17.8, true}, {0, 0, false}, {0, 0, false}, {13.1, 17.8, true}}}})
	}
	return map[string]func() (*Figure, error){
		"trade-off": func() (*Figure, error) {
			return TradeOff(TradeOffData{Currency: "EUR", AsFound: &TradePoint{Label: "as found", Flow: 65}, Points: []TradePoint{
				{Label: "this plan", Cost: 1610, Flow: 100.2, Chosen: true}, {Cost: 1631, Flow: 101.7}, {Cost: 1980, Flow: 102.6, Proof: Gap, Bound: 1900}, {Cost: 900, Flow: 88, Proof: Limited}}})
		},
		"fan": func() (*Figure, error) {
			return FanChart(FanData{FlowUnit: "m3/h", PressureUnit: "Pa", Fan: []XY{{0, 3000}, {2000, 2100}, {3500, 100}}, Clean: []XY{{0, 3000}, {2000, 2300}, {3650, 50}},
				Points: []OperatingPoint{{State: "planer", Flow: 2000, Pressure: 2100}, {State: "class", Flow: 2600, Pressure: 1480}}})
		},
		"flow": func() (*Figure, error) {
			return FlowBars(FlowData{Unit: "m3/h", Rows: []FlowRow{{State: "planer", Tool: "planer", Before: 701, After: 966, Required: 820},
				{State: "class", Tool: "planer", Before: 534, After: 826, Required: 820}, {State: "class", Tool: "lathe 1", Before: 970, After: 790, Required: 820}}})
		},
		"velocity":  func() (*Figure, error) { return VelocityMap(velocity) },
		"plan":      func() (*Figure, error) { return PlanView(schoolPlan()) },
		"isometric": func() (*Figure, error) { return Isometric(schoolPlan()) },
		"path": func() (*Figure, error) {
			return PressurePath(PathData{Unit: "Pa", Available: 2100, Steps: []PathStep{{"planer", 600, PathEntry}, {"hose", 400, PathRun}, {"wye", -40, PathJunction}, {"main 1", 500, PathRun}, {"filter", 300, PathFilter}}})
		},
	}
}

// TestGolden holds every picture against its golden file (pinned: it guards
// against change; the pictures were looked at when the files were made).
func TestGolden(t *testing.T) {
	for name, draw := range figures() {
		fig, err := draw()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		svg, err := fig.SVG()
		if err != nil {
			t.Fatal(err)
		}
		again, err := fig.SVG()
		if err != nil || !bytes.Equal(svg, again) {
			t.Errorf("%s: two writings differ", name)
		}
		golden := filepath.Join("testdata", name+".svg")
		if *update {
			if err := os.WriteFile(golden, svg, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(svg, want) {
			t.Errorf("%s differs from %s; look at it, then run with -update", name, golden)
		}
	}
}

func TestPNG(t *testing.T) {
	fig, err := PlanView(schoolPlan())
	if err != nil {
		t.Fatal(err)
	}
	data, err := fig.PNG(72)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if w, _ := fig.Size(); math.Abs(float64(img.Bounds().Dx())-w/2.54*72) > 2 {
		t.Errorf("%d pixels wide for %.2f cm", img.Bounds().Dx(), w)
	}
}

// TestBadData: nothing to draw and numbers that are none are errors.
func TestBadData(t *testing.T) {
	nan := math.NaN()
	plan := schoolPlan()
	plan.Runs[0].Path[0][0] = nan
	for name, err := range map[string]error{
		"no points":      second(TradeOff(TradeOffData{})),
		"NaN cost":       second(TradeOff(TradeOffData{Points: []TradePoint{{Cost: nan, Flow: 1}}})),
		"no fan":         second(FanChart(FanData{})),
		"no rows":        second(FlowBars(FlowData{})),
		"no runs":        second(VelocityMap(VelocityData{})),
		"empty plan":     second(PlanView(PlanData{})),
		"NaN in plan":    second(PlanView(plan)),
		"NaN in iso":     second(Isometric(plan)),
		"no path":        second(PressurePath(PathData{})),
		"falling fan":    second(FanChart(FanData{Fan: []XY{{1, 2}, {0, 3}}})),
		"two chosen":     second(TradeOff(TradeOffData{Points: []TradePoint{{Cost: 1, Flow: 1, Chosen: true}, {Cost: 2, Flow: 2, Chosen: true}}})),
		"nameless state": second(FanChart(FanData{Fan: []XY{{0, 3}, {1, 2}}, Points: []OperatingPoint{{Flow: 1, Pressure: 2}}})),
	} {
		if !errors.Is(err, ErrEmpty) && !errors.Is(err, ErrValue) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := (&Figure{}).PNG(-1); err == nil {
		t.Error("a resolution below zero is drawn")
	}
}

func second(_ *Figure, err error) error { return err }

// TestPlacer: labels that are placed never touch each other nor what is
// taken, and the same calls give the same places.
func TestPlacer(t *testing.T) {
	for seed := range uint64(50) {
		place := func() []rect {
			rng := rand.New(rand.NewPCG(seed, 2))
			p := placer{area: rect{0, 0, 400, 300}}
			var boxes []rect
			for range 25 {
				at := xy{20 + 360*rng.Float64(), 20 + 260*rng.Float64()}
				if s, ok := p.put(at, 3, 20+40*rng.Float64(), 8); ok {
					boxes = append(boxes, s.box)
				}
			}
			return boxes
		}
		a, b := place(), place()
		if len(a) < 10 || len(a) != len(b) {
			t.Fatalf("%d and %d labels placed", len(a), len(b))
		}
		for i := range a {
			if a[i] != b[i] {
				t.Fatal("the same calls give other places")
			}
			for k := range i {
				if a[i].hits(a[k]) {
					t.Fatalf("labels %v and %v touch", a[i], a[k])
				}
			}
		}
	}
}

// TestPaletteInGrey: the colours keep their order and distance in grey
// (luma of ITU-R BT.601).
func TestPaletteInGrey(t *testing.T) {
	luma := func(c color.NRGBA) float64 { return 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B) }
	order := []color.NRGBA{ink, navy, rust, slate, sand, mist, white}
	for i := 1; i < len(order); i++ {
		if luma(order[i])-luma(order[i-1]) < 15 {
			t.Errorf("colours %d and %d are %.0f apart in grey", i-1, i, luma(order[i])-luma(order[i-1]))
		}
	}
}

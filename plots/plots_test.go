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

// figures are the examples of each picture: the school and the larger shop.
func figures() map[string]func() (*Figure, error) {
	return map[string]func() (*Figure, error){
		"trade-off":       func() (*Figure, error) { return TradeOff(schoolTradeOff()) },
		"fan":             func() (*Figure, error) { return FanChart(schoolFan()) },
		"flow":            func() (*Figure, error) { return FlowBars(schoolFlow()) },
		"velocity":        func() (*Figure, error) { return VelocityMap(schoolVelocity()) },
		"plan":            func() (*Figure, error) { return PlanView(schoolPlan()) },
		"isometric":       func() (*Figure, error) { return Isometric(schoolPlan()) },
		"path":            func() (*Figure, error) { return PressurePath(schoolPath()) },
		"works-trade-off": func() (*Figure, error) { return TradeOff(worksTradeOff()) },
		"works-fan":       func() (*Figure, error) { return FanChart(worksFan()) },
		"works-flow":      func() (*Figure, error) { return FlowBars(worksFlow()) },
		"works-velocity":  func() (*Figure, error) { return VelocityMap(worksVelocity()) },
		"works-plan":      func() (*Figure, error) { return PlanView(worksPlan()) },
		"works-isometric": func() (*Figure, error) { return Isometric(worksPlan()) },
		"works-path":      func() (*Figure, error) { return PressurePath(worksPath()) },
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

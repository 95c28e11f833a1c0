package plots

import (
	"bytes"
	"errors"
	"flag"
	"image/png"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// figures are the examples of each picture: the school and the larger shop.
func figures() map[string]func() (*Figure, error) {
	return map[string]func() (*Figure, error){
		"trade-off":         func() (*Figure, error) { return TradeOff(schoolTradeOff()) },
		"power":             func() (*Figure, error) { return PowerFront(schoolPower()) },
		"fan":               func() (*Figure, error) { return FanChart(schoolFan()) },
		"flow":              func() (*Figure, error) { return FlowBars(schoolFlow()) },
		"velocity":          func() (*Figure, error) { return VelocityMap(schoolVelocity()) },
		"plan":              func() (*Figure, error) { return PlanView(schoolPlan()) },
		"isometric":         func() (*Figure, error) { return Isometric(schoolPlan()) },
		"corridors":         func() (*Figure, error) { return PlanView(schoolWays()) },
		"path":              func() (*Figure, error) { return PressurePath(schoolPath()) },
		"compare":           func() (*Figure, error) { return CompareChart(studioCompare()) },
		"works-compare":     func() (*Figure, error) { return CompareChart(worksCompare()) },
		"waterfall":         func() (*Figure, error) { return LossWaterfall(schoolWaterfall()) },
		"profile":           func() (*Figure, error) { return PressureProfile(schoolProfile()) },
		"readings":          func() (*Figure, error) { return ReadChart(schoolReadings()) },
		"stages":            func() (*Figure, error) { return StageFlows(schoolStages()) },
		"works-stages":      func() (*Figure, error) { return StageFlows(worksStages()) },
		"correlation":       func() (*Figure, error) { return Correlation(schoolCorrelation()) },
		"faults":            func() (*Figure, error) { return FaultMap(schoolFaults()) },
		"works-correlation": func() (*Figure, error) { return Correlation(worksCorrelation()) },
		"works-faults":      func() (*Figure, error) { return FaultMap(worksFaults()) },
		"works-readings":    func() (*Figure, error) { return ReadChart(worksReadings()) },
		"works-profile":     func() (*Figure, error) { return PressureProfile(worksProfile()) },
		"works-trade-off":   func() (*Figure, error) { return TradeOff(worksTradeOff()) },
		"works-fan":         func() (*Figure, error) { return FanChart(worksFan()) },
		"works-flow":        func() (*Figure, error) { return FlowBars(worksFlow()) },
		"works-velocity":    func() (*Figure, error) { return VelocityMap(worksVelocity()) },
		"works-plan":        func() (*Figure, error) { return PlanView(worksPlan()) },
		"works-isometric":   func() (*Figure, error) { return Isometric(worksPlan()) },
		"works-path":        func() (*Figure, error) { return PressurePath(worksPath()) },
		"works-waterfall":   func() (*Figure, error) { return LossWaterfall(worksWaterfall()) },
	}
}

// TestGolden holds every picture against its golden file (pinned: it guards
// against change; the pictures were looked at when the files were made).
func TestGolden(t *testing.T) {
	all := figures()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		svg, again := svgOf(t, name, all[name]), svgOf(t, name, all[name])
		if !bytes.Equal(svg, again) {
			t.Errorf("%s: drawn twice, the files differ", name)
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

func svgOf(t *testing.T, name string, draw func() (*Figure, error)) []byte {
	t.Helper()
	fig, err := draw()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	svg, err := fig.SVG()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return svg
}

// TestPNG: one picture is a PNG of the size that the figure states.
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

// TestWrite: each format that is offered is written, another is refused.
func TestWrite(t *testing.T) {
	fig, err := PressurePath(schoolPath())
	if err != nil {
		t.Fatal(err)
	}
	for i, start := range []string{"<?xml", "\x89PNG"} {
		var out bytes.Buffer
		if err := fig.Write(&out, Formats()[i]); err != nil || !bytes.HasPrefix(out.Bytes(), []byte(start)) {
			t.Errorf("%s: %v, starts with %.8q", Formats()[i], err, out.Bytes())
		}
	}
	if err := fig.Write(&bytes.Buffer{}, "bmp"); !errors.Is(err, ErrFormat) {
		t.Errorf("bmp: %v", err)
	}
	for _, dpi := range []int{-1, minDPI - 1, maxDPI + 1} {
		if _, err := fig.PNG(dpi); !errors.Is(err, ErrFormat) {
			t.Errorf("%d dpi: %v", dpi, err)
		}
	}
}

package cli

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

// TestGaugeByHand is hand-worked: a fan of 2500·(1−(Q/0.8)²) Pa total suction at
// the inlet, a filter of 500 Pa/(m³/s) clean and 1000 loaded, 0.4 m³/s with
// either for the sake of the sums. A blockage to 0.32 m³/s leaves the fan 2500·0.84
// = 2100 Pa less 160 Pa for the clean filter, 1940 Pa; the velocity pressure at
// the inlet, here 100 Pa, falls to 64 Pa.
func TestGaugeByHand(t *testing.T) {
	n := gaugeShop(t)
	clean := network.CollectorResult{ID: "fan", Flow: 0.4, Total: 1675, Static: 1775}
	loaded := network.CollectorResult{ID: "fan", Flow: 0.4, Total: 1475, Static: 1575}
	r := gauge(n, "one", &clean, &loaded)
	for what, v := range map[string][2]units.Pressure{"clean": {r.clean, 1775}, "loaded": {r.loaded, 1575}, "blocked": {r.blocked, 2004},
		"fresh": {r.fresh, 200}, "due": {r.due, 400}, "stop": {r.stop, 600}} {
		if math.Abs(float64(v[0]-v[1])) > 0.1 {
			t.Errorf("%s: %.2f Pa, want %.2f", what, float64(v[0]), float64(v[1]))
		}
	}
	if !r.filter {
		t.Error("the filter is described")
	}
}

// gaugeShop is a shop with the fan and the filter of TestGaugeByHand.
func gaugeShop(t *testing.T) *network.Network {
	s := networktest.Random(rand.New(rand.NewPCG(1, 1)), networktest.Options{Tools: 2})
	s.Collectors = []network.Collector{{ID: "fan", At: s.Collectors[0].At, Inlet: s.Collectors[0].Inlet, Meaning: network.FanStatic,
		Curve: fan.Quadratic{Shutoff: 2500, FreeAir: 0.8}, Filter: fan.Filter{Clean: 500, Loaded: 1000}}}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestGaugeBeyondTheCurve: where four fifths of the air run past the end of the
// fan's curve, 0.8 m³/s here, there is no mark, and the row can be written as JSON.
func TestGaugeBeyondTheCurve(t *testing.T) {
	n := gaugeShop(t)
	at := network.CollectorResult{ID: "fan", Flow: 1.1, Total: 100, Static: 200}
	r := gauge(n, "one", &at, &at)
	if r.blocked != 0 || !r.dull() {
		t.Errorf("blocked %v: wants no mark", r.blocked)
	}
	if _, err := json.Marshal(gaugesJSON([]gaugeRow{r})); err != nil {
		t.Error(err)
	}
}

// TestGaugeWords: a filter that the file does not describe has no marks, one
// figure for both no mark "filter new"; several collectors are told apart.
func TestGaugeWords(t *testing.T) {
	var b strings.Builder
	writeGauges(&b, []gaugeRow{{state: "a|b", collector: "x", flow: 1, clean: 1000, loaded: 1000}}, units.SI)
	if got := b.String(); !strings.Contains(got, "does not describe the filter") || strings.Contains(got, "Marks for") || !strings.Contains(got, `| a\|b | 1000 | 1000 | – |`) {
		t.Errorf("no filter:\n%s", got)
	}
	if !strings.Contains(b.String(), "too little to tell") {
		t.Error("a mark is missing, and nothing is said of it")
	}
	b.Reset()
	writeGauges(&b, []gaugeRow{{state: "a", collector: "x", flow: 1, clean: 1000, loaded: 990, filter: true, fresh: 200, due: 200, stop: 300},
		{state: "a", collector: "y", flow: 1, clean: 1000, loaded: 990, filter: true, fresh: 200, due: 400, stop: 600}}, units.US)
	if got := b.String(); !strings.Contains(got, "one loss for the filter new and loaded") || !strings.Contains(got, "dial across the filter of y") || !strings.Contains(got, "**clean the filter**: 1.61 in wg") {
		t.Errorf("two collectors:\n%s", got)
	}
}

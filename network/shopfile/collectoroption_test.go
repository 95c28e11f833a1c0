package shopfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wyewright/network/fan"

	"github.com/google/go-cmp/cmp"
)

// optionShop has a collector with speeds and a filter to renew, and a rival at
// its point.
const optionShop = `version: 1
currency: EUR
air: {density: 1.2 kg/m3}
collectors:
  old unit:
    at: COL
    inlet: 160 mm
    fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2000 Pa, power: 0.4 kW}, {flow: 2000 m3/h, pressure: 500 Pa, power: 1 kW}]}
    filter: {clean: 100 Pa at 1000 m3/h, loaded: 400 Pa at 1000 m3/h, renew: {price: 90 EUR, loaded: 300 Pa at 1000 m3/h}} # cartridge
    speeds: # by another pulley
      - {speed: 110 %, price: 45 EUR}
      - {speed: 120 %, price: 60.50 EUR}
  new cyclone: {at: COL, inlet: 180 mm, price: 900 EUR, speeds: [{speed: 90 %, price: 5 EUR}], fan: {flow: 1800 m3/h}}
runs:
  drop: {from: P, to: COL, size: 100 mm, family: dust spiral, length: 3 m}
tools:
  saw: {flow: 400 m3/h, ports: [{at: P, size: 100 mm, entry: 2.0, gate: {leak: 1 cm2}}]}
fitted: {filter: {old unit: 2}, fan speed: {old unit: 0.9}}
states: [each alone]
redesign: {may: [collector]}
`

// TestCollectorOptions: hand-worked. The fan laws act on the fitted fan; a
// renewed filter has no share in what was fitted of the old one.
func TestCollectorOptions(t *testing.T) {
	f := decodeText(t, []byte(optionShop))
	for _, w := range f.Warnings {
		t.Error(w)
	}
	var got []string
	for _, o := range f.CollectorOptions {
		lo, hi := o.Becomes.Curve.Range()
		got = append(got, fmt.Sprintf("%s | %d %s | %s new %v | speed %g renewed %v | %.4g to %.4g m³/s, filter %.4g and %.4g | line %d",
			o.Label, o.Cost.Minor, o.Cost.Currency, o.Collector, o.New, o.Speed, o.Renewed, lo, hi, o.Becomes.Filter.Clean, o.Becomes.Filter.Loaded, o.Line))
	}
	// 2000 m³/h at 0.9 · 1.1 of the speed are 0.55 m³/s; 100 Pa at 1000 m³/h is
	// 360 Pa per m³/s, fitted 720.
	want := []string{
		"fan at 110 % speed | 4500 EUR | old unit new false | speed 1.1 renewed false | 0 to 0.55 m³/s, filter 720 and 2880 | line 11",
		"fan at 120 % speed | 6050 EUR | old unit new false | speed 1.2 renewed false | 0 to 0.6 m³/s, filter 720 and 2880 | line 12",
		"renewed filter | 9000 EUR | old unit new false | speed 1 renewed true | 0 to 0.5 m³/s, filter 360 and 1080 | line 9",
		"fan at 110 % speed, renewed filter | 13500 EUR | old unit new false | speed 1.1 renewed true | 0 to 0.55 m³/s, filter 360 and 1080 | line 9",
		"fan at 120 % speed, renewed filter | 15050 EUR | old unit new false | speed 1.2 renewed true | 0 to 0.6 m³/s, filter 360 and 1080 | line 9",
		"new cyclone | 90000 EUR | new cyclone new true | speed 1 renewed false | 0.5 to 0.5 m³/s, filter 0 and 0 | line 13",
		"new cyclone, fan at 90 % speed | 90500 EUR | new cyclone new true | speed 0.9 renewed false | 0.45 to 0.45 m³/s, filter 0 and 0 | line 13",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	// 2000 Pa · 0.99² and 1 kW · 0.99³ at the ends; the file's own fan stays.
	o := f.CollectorOptions[0].Becomes
	if p, _ := o.Curve.Pressure(0); math.Abs(p-1960.2) > 1e-6 {
		t.Errorf("pressure at rest %g Pa", p)
	}
	if w := float64(o.Motor.Points[1].Power); math.Abs(w-970.299) > 1e-6 {
		t.Errorf("power %g W", w)
	}
	if _, hi := f.Spec.Collectors[0].Curve.Range(); math.Abs(hi-0.5) > 1e-12 || math.Abs(float64(f.Spec.Collectors[0].Motor.Points[1].Power)-729) > 1e-6 {
		t.Errorf("the fan of the file was changed: %g", hi)
	}
}

// TestCollectorOptionsOfTheOther: which collector is in place decides what is
// new; one without a price is not on offer.
func TestCollectorOptionsOfTheOther(t *testing.T) {
	src := strings.Replace(optionShop, "may: [collector]", "collector: new cyclone, may: [collector]", 1)
	labels := func(f *File) string {
		var out []string
		for _, o := range f.CollectorOptions {
			out = append(out, o.Label)
		}
		return strings.Join(out, "; ")
	}
	f := decodeText(t, []byte(src))
	if got := labels(f); got != "fan at 90 % speed" {
		t.Errorf("with the new one in place: %s", got)
	}
	if len(f.Warnings) != 1 || !strings.Contains(f.Warnings[0].Msg, `"old unit" is not on offer`) {
		t.Errorf("warnings %v", f.Warnings)
	}
	f = decodeText(t, []byte(strings.Replace(src, "inlet: 160 mm", "inlet: 160 mm\n    price: 10 EUR", 1)))
	want := "new old unit; new old unit, fan at 110 % speed; new old unit, fan at 120 % speed; new old unit, renewed filter; " +
		"new old unit, fan at 110 % speed, renewed filter; new old unit, fan at 120 % speed, renewed filter; fan at 90 % speed"
	if got := labels(f); got != want {
		t.Errorf("with a price on the old one: %s", got)
	}
	if o := f.CollectorOptions[4]; o.Cost.Minor != 1000+4500+9000 {
		t.Errorf("all three cost %d", o.Cost.Minor)
	}
}

// TestRenewedFilterClean: what is clean is as described, no more than loaded,
// or as said.
func TestRenewedFilterClean(t *testing.T) {
	for renew, want := range map[string]fan.Filter{
		"loaded: 36 Pa at 1000 m3/h":                             {Clean: 129.6, Loaded: 129.6},
		"loaded: 200 Pa at 1000 m3/h, clean: 50 Pa at 1000 m3/h": {Clean: 180, Loaded: 720},
	} {
		f := decodeText(t, []byte(strings.Replace(optionShop, "loaded: 300 Pa at 1000 m3/h", renew, 1)))
		got := f.CollectorOptions[2].Becomes.Filter
		if math.Abs(got.Clean-want.Clean) > 1e-9 || math.Abs(got.Loaded-want.Loaded) > 1e-9 {
			t.Errorf("%s: %+v, want %+v", renew, got, want)
		}
	}
}

package shopfile

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestEnergyOfAFile: what the keys say arrives.
func TestEnergyOfAFile(t *testing.T) {
	src, err := os.ReadFile(filepath.Join(shops, "school.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(src), "  tail: 0.8 m\n", "  tail: 0.8 m\n  years: 10\n  hours: 400 h\n  state hours: {class: 120 h}\n  interest: 3 %\n  motor efficiency: 83 %\n", 1)
	text = strings.Replace(text, "crew: amateur", "crew: amateur, energy: 0.3245 EUR/kWh", 1)
	f, err := Decode("school.yaml", []byte(text), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	e := f.Energy
	if !e.Given || math.Abs(e.PerKWh-32.45) > 1e-9 || e.Currency != "EUR" || e.Years != 10 || e.Hours != 400 || math.Abs(e.Interest-0.03) > 1e-12 ||
		math.Abs(e.Drive-0.83) > 1e-12 || len(e.States) != 1 || e.States[0] != (StateHours{"class", 120}) {
		t.Errorf("%+v", e)
	}
	if plain, err := Decode("school.yaml", src, builtin(t)); err != nil || plain.Energy.Given || plain.Energy.Hours != 0 {
		t.Errorf("%v %+v", err, plain.Energy)
	}
	over := strings.Replace(text, "class: 120 h", "class: 500 h", 1)
	if _, err := Decode("school.yaml", []byte(over), builtin(t)); err == nil || !strings.Contains(err.Error(), "add up to 500") {
		t.Errorf("more hours in a state than in all: %v", err)
	}
	foreign := strings.Replace(text, "0.3245 EUR", "0.3245 USD", 1)
	if _, err := Decode("school.yaml", []byte(foreign), builtin(t)); err == nil || !strings.Contains(err.Error(), "currency is EUR") {
		t.Errorf("another currency: %v", err)
	}
}

// TestParseEnergyPrice: minor units of the currency, or a reason.
func TestParseEnergyPrice(t *testing.T) {
	for s, want := range map[string]float64{"0.32 EUR/kWh": 32, "0.3 USD / kWh": 30, "31 JPY/kWh": 31} {
		if got, _, err := ParseEnergyPrice(s); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %g, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "0.32", "0.32 EUR", "0.32 EUR/h", "x EUR/kWh", "-1 EUR/kWh", "0.32 eur/kWh", "nan EUR/kWh", "1e9 EUR/kWh"} {
		if _, _, err := ParseEnergyPrice(s); err == nil {
			t.Errorf("%q was taken", s)
		}
	}
}

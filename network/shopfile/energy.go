package shopfile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Energy is what the file says of energy over the years; what it does not say
// is not Given or 0.
type Energy struct {
	// Given says that prices/energy names a price: PerKWh minor units of the
	// Currency (32 for 0.32 EUR).
	Given    bool
	PerKWh   float64
	Currency string
	// Years and Hours a year of running.
	Years, Hours float64
	// Interest a year, and the Drive efficiency from socket to shaft, as shares.
	Interest, Drive float64
	// States names the hours of single states.
	States []StateHours
}

// StateHours are the hours a year that a state runs.
type StateHours struct {
	State string
	Hours float64
}

const (
	// MostHours is the number of hours in a leap year.
	MostHours = 8784
	// MostYears is longer than any duct serves.
	MostYears = 100
)

// EnergyExample is a price of energy as files and flags have it.
const EnergyExample = "0.32 EUR/kWh"

// ParseEnergyPrice reads "0.32 EUR/kWh" into minor units (here 32; fractions are
// allowed) and the currency. It takes no sign, and needs the unit.
func ParseEnergyPrice(s string) (minor float64, currency string, err error) {
	number, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	currency, unit, found := strings.Cut(strings.TrimSpace(rest), "/")
	currency = strings.TrimSpace(currency)
	switch {
	case !found || strings.TrimSpace(unit) != "kWh":
		return 0, "", errors.New("not a price for a kWh")
	case !isCurrency(currency):
		return 0, "", fmt.Errorf("unknown currency %q", currency)
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, "", fmt.Errorf("%q is not a number", number)
	}
	if v < 0 || v > 1000 {
		return 0, "", fmt.Errorf("%q is no price that a kWh has", number)
	}
	digits, ok := minorDigits[currency]
	if !ok {
		digits = 2
	}
	return v * math.Pow10(digits), currency, nil
}

// energyPrice reads prices/energy.
func (d *decoder) energyPrice(n *node) {
	s, ok := d.text(n)
	if !ok {
		return
	}
	e := &d.file.Energy
	minor, currency, err := ParseEnergyPrice(s)
	switch {
	case err != nil:
		d.fault(n, fmt.Sprintf("write it like %q", EnergyExample), "%s %q: %v", n.label, s, err)
	case d.file.Currency != "" && d.file.Currency != currency:
		d.fault(n, "prices are not converted; write all of them in one currency", "%s %q: the file's currency is %s", n.label, s, d.file.Currency)
	default:
		e.Given, e.PerKWh, e.Currency = true, minor, currency
	}
}

// running reads what redesign says of running time: years, hours a year, hours of
// single states (the rest is shared by the other states alike), interest and the
// motor's efficiency.
func (d *decoder) running(f *fields) {
	e := &d.file.Energy
	if s, ok := d.text(f.at("years")); ok {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil || !(v >= 0 && v <= MostYears) {
			d.fault(f.at("years"), "a number without a unit, such as years: 10", "years %q: not a number from 0 to %d", s, MostYears)
		} else {
			e.Years = v
		}
	}
	e.Hours = d.hours(f.at("hours"))
	if v, ok := d.percent(f.at("interest")); ok {
		if e.Interest = v; v >= 1 {
			d.fault(f.at("interest"), "a share a year, such as 3 %", "interest %q: not below 100 %%", f.at("interest").text)
		}
	}
	if v, ok := d.percent(f.at("motor efficiency")); ok {
		if e.Drive = v; v <= 0 || v > 1 {
			d.fault(f.at("motor efficiency"), "what the shaft gets of what the socket gives, such as 85 %", "motor efficiency %q: not above 0 %% and up to 100 %%", f.at("motor efficiency").text)
		}
	}
	d.stateHours(f.at("state hours"))
	d.years = f.at("years")
}

// idleYears warns of years without a price of energy: they count for nothing.
func (d *decoder) idleYears() {
	if d.years != nil && !d.file.Energy.Given && d.file.Energy.Years > 0 {
		d.warn(d.years, "add energy: "+EnergyExample+" under prices, or take years out", "years %q count for nothing without a price of energy", d.years.text)
	}
}

// hours reads "400 h".
func (d *decoder) hours(n *node) float64 {
	s, ok := d.text(n)
	if !ok {
		return 0
	}
	number, unit := s, ""
	if k := strings.LastIndexAny(s, "0123456789."); k >= 0 {
		number, unit = s[:k+1], strings.TrimSpace(s[k+1:])
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	switch {
	case err != nil || unit != "h":
		d.fault(n, `hours a year, like "400 h"`, "%s %q: not a number of hours", n.label, s)
	case !(v >= 0 && v <= MostHours):
		d.fault(n, fmt.Sprintf("a year has %d hours at most", MostHours), "%s %q: not the hours of a year", n.label, s)
	default:
		return v
	}
	return 0
}

// stateHours reads the hours of single states by their names.
func (d *decoder) stateHours(n *node) {
	if n == nil || n.refused {
		return
	}
	if n.kind != mapping {
		d.fault(n, "write state hours: {class: 120 h}", "state hours must be a set of states, not %s", n.kindName())
		return
	}
	e := &d.file.Energy
	var names []string
	for _, st := range d.file.States {
		names = append(names, st.Name)
	}
	seen, sum := map[string]bool{}, 0.0
	for _, entry := range n.entries {
		name := entry.key.text
		switch {
		case !slices.Contains(names, name):
			d.fault(entry.key, didYouMean(name, names), "no state %q", name)
			continue
		case seen[name]:
			d.fault(entry.key, "", "key %q is repeated", name)
			continue
		}
		seen[name] = true
		h := d.hours(entry.value)
		sum += h
		e.States = append(e.States, StateHours{name, h})
	}
	if e.Hours > 0 && sum > e.Hours*(1+1e-9) {
		d.fault(n, "hours is for all states together", "the hours of the states add up to %g, hours says %g", sum, e.Hours)
	}
}

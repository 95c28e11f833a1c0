package project

import (
	"errors"
	"fmt"
	"strings"

	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize"
)

// EnergyWishes are what a user says of energy beside the file; nil fields leave
// it to the file.
type EnergyWishes struct {
	// PerKWh in minor units of the project's currency.
	PerKWh, Years, Hours, Interest *float64
}

// Errors of an energy that cannot be reckoned with.
var (
	ErrNoYears = errors.New("the energy has a price, but no years of service")
	ErrNoHours = errors.New("the energy has a price, but no running hours")
	ErrNoPrice = errors.New("years or hours of energy, but no price of it")
	ErrHours   = errors.New("the hours of the states do not fit the hours in all")
)

// Energy is what a redesign reckons energy with: the file's and the user's
// wishes together, the user's before the file's. It is nil where neither names a
// price. States that name no hours share the rest alike, and notes say so.
func (p *Project) Energy(w EnergyWishes) (e *optimize.Energy, notes []string, err error) {
	f := &p.File.Energy
	if f.Given && f.Currency != p.Currency.Code {
		return nil, nil, fmt.Errorf("the file's energy is in %s, its prices are in %s", f.Currency, p.Currency.Code)
	}
	pick := func(own *float64, file float64) float64 {
		if own != nil {
			return *own
		}
		return file
	}
	e = &optimize.Energy{Price: pick(w.PerKWh, f.PerKWh), Years: pick(w.Years, f.Years), Hours: pick(w.Hours, f.Hours),
		Interest: pick(w.Interest, f.Interest), Drive: units.Ratio(f.Drive)}
	shareNote, err := p.stateHours(e)
	if err != nil {
		return nil, nil, err
	}
	priced := w.PerKWh != nil || f.Given
	switch asked := w.Years != nil || w.Hours != nil || w.Interest != nil; {
	case !priced && asked:
		return nil, nil, ErrNoPrice
	case !priced:
		return nil, nil, nil
	case e.Years == 0 && w.Years == nil:
		return nil, nil, ErrNoYears
	case e.Hours == 0 && w.Hours == nil:
		return nil, nil, ErrNoHours
	}
	return e, append(notes, shareNote), nil
}

// Shares are the states' shares of the running hours alone, for a trade-off
// without a price.
func (p *Project) Shares() (*optimize.Energy, string, error) {
	e := &optimize.Energy{Hours: p.File.Energy.Hours, Drive: units.Ratio(p.File.Energy.Drive)}
	note, err := p.stateHours(e)
	return e, note, err
}

// stateHours shares the hours among the states: those that name their own, and
// the rest alike. Where every state names its own, they make the sum.
func (p *Project) stateHours(e *optimize.Energy) (note string, err error) {
	own := map[string]float64{}
	for _, s := range p.File.Energy.States {
		own[s.State] = s.Hours
	}
	states := Bound(p.File.States)
	sum, others := 0.0, 0
	for _, st := range states {
		if h, ok := own[st.Name]; ok {
			sum += h
		} else {
			others++
		}
	}
	switch {
	case others == len(states):
		return "energy: every state runs the same share of the hours (the file can say more: redesign: {state hours: {…}})", nil
	case others == 0 && e.Hours == 0:
		e.Hours = sum
	case others == 0 && (sum > e.Hours*(1+1e-9) || sum < e.Hours*(1-1e-9)), sum > e.Hours*(1+1e-9) && e.Hours > 0:
		return "", fmt.Errorf("%w: the states have %g, in all there are %g", ErrHours, sum, e.Hours)
	case e.Hours == 0:
		return "", fmt.Errorf("%w: some states have none, and there is no sum to take the rest from", ErrHours)
	}
	for _, st := range states {
		h, ok := own[st.Name]
		if !ok {
			h = (e.Hours - sum) / float64(others)
		}
		e.Share = append(e.Share, max(0, h))
	}
	if others == 0 {
		return "energy: hours of each state as the file has them", nil
	}
	return fmt.Sprintf("energy: hours of %s as the file has them, the rest shared by the other states alike", strings.Join(names(p.File.Energy.States), ", ")), nil
}

func names(list []shopfile.StateHours) []string {
	var out []string
	for _, s := range list {
		out = append(out, s.State)
	}
	return out
}

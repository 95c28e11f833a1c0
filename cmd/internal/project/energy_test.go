package project

import (
	"errors"
	"math"
	"testing"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize/price"
)

// TestStateHours: states that name hours have them, the others share the rest;
// what does not add up is refused (hand-worked).
func TestStateHours(t *testing.T) {
	shop := func(e shopfile.Energy) *Project {
		f := &shopfile.File{Energy: e, States: []network.State{{Name: "a", Running: []string{"x"}}, {Name: "b", Running: []string{"y"}},
			{Name: "c", Running: []string{"z"}}, {Name: "idle"}}}
		return &Project{File: f, Currency: price.Currency{Code: "EUR", Digits: 2}}
	}
	given := shopfile.Energy{Given: true, PerKWh: 32, Currency: "EUR", Years: 10}
	of := func(hours float64, list ...shopfile.StateHours) shopfile.Energy {
		e := given
		e.Hours, e.States = hours, list
		return e
	}
	all := []shopfile.StateHours{{State: "a", Hours: 10}, {State: "b", Hours: 20}, {State: "c", Hours: 30}}
	for _, v := range []struct {
		e     shopfile.Energy
		hours float64
		share []float64
		err   error
	}{
		{of(400), 400, nil, nil},
		{of(400, all[0]), 400, []float64{10, 195, 195}, nil},
		{of(0, all...), 60, []float64{10, 20, 30}, nil},
		{of(60, all...), 60, []float64{10, 20, 30}, nil},
		{of(70, all...), 0, nil, ErrHours},
		{of(20, all[:2]...), 0, nil, ErrHours},
		{of(0, all[0]), 0, nil, ErrHours},
		{of(0), 0, nil, ErrNoHours},
		{shopfile.Energy{Given: true, Currency: "EUR", Hours: 400}, 0, nil, ErrNoYears},
	} {
		e, _, err := shop(v.e).Energy(EnergyWishes{})
		if !errors.Is(err, v.err) || err != nil && v.err == nil {
			t.Errorf("%+v: %v, want %v", v.e, err, v.err)
			continue
		}
		if err != nil {
			continue
		}
		if e.Hours != v.hours || len(e.Share) != len(v.share) {
			t.Errorf("%+v: %g hours, shares %v", v.e, e.Hours, e.Share)
			continue
		}
		for i := range v.share {
			if math.Abs(e.Share[i]-v.share[i]) > 1e-9 {
				t.Errorf("%+v: shares %v", v.e, e.Share)
			}
		}
	}
	if e, _, err := shop(shopfile.Energy{Years: 10, Hours: 400}).Energy(EnergyWishes{}); e != nil || err != nil {
		t.Errorf("without a price: %v, %v", e, err)
	}
	years := 5.0
	if _, _, err := shop(shopfile.Energy{}).Energy(EnergyWishes{Years: &years}); !errors.Is(err, ErrNoPrice) {
		t.Errorf("years alone: %v", err)
	}
	if e, _, err := shop(of(400)).Energy(EnergyWishes{Years: &years}); err != nil || e.Years != 5 || e.Price != 32 {
		t.Errorf("the flag does not win: %+v, %v", e, err)
	}
	foreign := of(400)
	foreign.Currency = "USD"
	if _, _, err := shop(foreign).Energy(EnergyWishes{}); err == nil {
		t.Error("another currency was taken")
	}
}

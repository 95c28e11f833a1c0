package shopfile

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadingValues: every way to write a value. Hand-worked with the shop's own
// air: V = √(2·p/ρ); the mean of four roots.
func TestReadingValues(t *testing.T) {
	shop := decodeFile(t, filepath.Join(shops, "coop.yaml"))
	rho := float64(shop.Spec.Air.Density)
	v := func(p float64) float64 { return math.Sqrt(2 * p / rho) }
	for _, c := range []struct {
		row   string
		want  float64
		is    Quantity
		bound Bound
	}{
		{"panels,main 1,velocity,12.4 m/s,centre,,", 12.4, Velocity, Exact},
		{"panels,main 1,velocity,>30 m/s,centre,,", 30, Velocity, AtLeast},
		{"panels,main 1,velocity,12; 13; 14; 13 m/s,traverse,,", 13, Velocity, Exact},
		{"panels,main 1,velocity,2400;2500;2600;2500 fpm,traverse,,", 12.7, Velocity, Exact},
		{"panels,main 1,velocity pressure,240 Pa,centre,,", v(240), Velocity, Exact},
		{"panels,main 1,velocity pressure,>540 Pa,centre,,", v(540), Velocity, AtLeast},
		{"panels,main 1,velocity pressure,100; 144; 196; 144 Pa,traverse,,", (v(100) + 2*v(144) + v(196)) / 4, Velocity, Exact},
		{"panels,main 1,velocity pressure,100; -1; 196; 144 Pa,traverse,,", (v(100) + v(196) + v(144)) / 4, Velocity, Exact},
		{"panels,main 1,static pressure,<-900 Pa,,2 m,2026-03-14", 900, Suction, AtLeast},
		{"panels,collector,current,7.25 A,,,", 7.25, Current, Exact},
		{"panels,panel saw 1,suction,400 Pa,,,", 400, Suction, Exact},
	} {
		rs, err := DecodeReadings("r.csv", []byte("state,place,quantity,value,method,distance,date\n"+c.row+"\n"), shop)
		if err != nil {
			t.Errorf("%s: %v", c.row, err)
			continue
		}
		r := rs[0]
		if math.Abs(r.Value-c.want) > 1e-9*c.want || r.Quantity != c.is || r.Bound != c.bound {
			t.Errorf("%s: %g %v %v, want %g %v %v", c.row, r.Value, r.Quantity, r.Bound, c.want, c.is, c.bound)
		}
		if n := strings.Count(c.row, ";"); n > 0 && len(r.Points) != n+1 {
			t.Errorf("%s: %d points", c.row, len(r.Points))
		}
		if strings.Contains(c.row, "2 m,") && (!r.Along || r.Distance != 2 || r.Date != "2026-03-14") {
			t.Errorf("%s: %+v", c.row, r)
		}
	}
}

// TestCurrentNeedsPower: the current of a motor whose power is not described is
// refused, inline too.
func TestCurrentNeedsPower(t *testing.T) {
	src := strings.Replace(fittedShop, "%s", "", 1)
	src = strings.Replace(src, "readings: r.csv", "readings: [{state: saw, place: collector, quantity: current, value: 7 A}]", 1)
	if _, err := Decode("shop.yaml", []byte(src), builtin(t)); err == nil || !strings.Contains(err.Error(), "whose power is not described") {
		t.Error(err)
	}
	src = strings.Replace(src, "filter: 200", "motor: {rating: 3 kW, efficiency: 60 %}, filter: 200", 1)
	if f, err := Decode("shop.yaml", []byte(src), builtin(t)); err != nil || f.Readings[0].Quantity != Current {
		t.Error(err)
	}
}

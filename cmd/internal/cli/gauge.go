package cli

import (
	"context"
	"slices"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
	"wyewright/optimize"
)

// The marks "stop" [our choice]: lostAir is the share of a state's air that a
// blockage has taken, overLoaded how far the filter is above what it loses
// loaded.
const (
	lostAir    = 0.2
	overLoaded = 1.5
)

// gaugeRow is what two gauges should show at a collector in one state: the
// suction at the wall of its inlet, and the pressure over its filter.
type gaugeRow struct {
	state, collector string
	flow             units.Flow // with the loaded filter
	// clean and loaded are the suction with either filter.
	clean, loaded units.Pressure
	// blocked is the suction where a blockage has taken lostAir of the air, with
	// the clean filter; 0 where the fan's curve does not say.
	blocked units.Pressure
	// filter is whether the file describes the filter; fresh and due are its
	// loss clean and loaded, the same where the file gives one figure for both,
	// and stop overLoaded times that.
	filter           bool
	fresh, due, stop units.Pressure
}

// gauges foretells what gauges show in the states of a shop. The collectors of a
// row are those that pull air.
func gauges(ctx context.Context, n *network.Network, states []optimize.StateResult) ([]gaugeRow, error) {
	var asked [2][]network.State
	for _, s := range states {
		for k, filter := range []network.FilterState{network.Clean, network.Loaded} {
			st := s.State
			st.Filter = filter
			asked[k] = append(asked[k], st)
		}
	}
	limits := network.Limits{}
	clean, err := solveStates(ctx, n, asked[0], limits)
	if err != nil {
		return nil, err
	}
	loaded, err := solveStates(ctx, n, asked[1], limits)
	if err != nil {
		return nil, err
	}
	var out []gaugeRow
	for i := range states {
		for k := range loaded[i].Solution.Collectors {
			a, b := &clean[i].Solution.Collectors[k], &loaded[i].Solution.Collectors[k]
			if a.Flow > 0 && b.Flow > 0 {
				out = append(out, gauge(n, states[i].State.Name, a, b))
			}
		}
	}
	return out, nil
}

// gauge is one row, from a collector's answers with the clean and the loaded
// filter. A blockage leaves the fan on its curve with less air.
func gauge(n *network.Network, state string, clean, loaded *network.CollectorResult) gaugeRow {
	// By its name: a state may have another one in place than the shop.
	at := slices.IndexFunc(n.Spec().Collectors, func(c network.Collector) bool { return c.ID == loaded.ID })
	c := &n.Spec().Collectors[at]
	out := gaugeRow{state: state, collector: c.ID, flow: loaded.Flow, clean: clean.Static, loaded: loaded.Static,
		filter: c.Filter.Loaded > 0, fresh: units.Pressure(c.Filter.Clean * float64(clean.Flow)), due: units.Pressure(c.Filter.Loaded * float64(loaded.Flow))}
	out.stop = overLoaded * out.due
	if _, fixed := c.Curve.(fan.Fixed); fixed {
		return out
	}
	const left = 1 - lostAir
	velocity := clean.Static - clean.Total // pressure of it at the inlet
	if p, ok := fanAt(n, at, network.Clean, left*clean.Flow); ok {
		out.blocked = p + left*left*velocity
	}
	return out
}

// fanAt is the total suction that a collector holds at a flow, between points of
// its line; false beyond its ends, as where the air runs past the end of the
// fan's curve.
func fanAt(n *network.Network, collector int, filter network.FilterState, q units.Flow) (units.Pressure, bool) {
	line := n.FanLine(collector, filter, 400)
	i := slices.IndexFunc(line, func(p [2]float64) bool { return p[0] >= float64(q) })
	if i <= 0 {
		return 0, false
	}
	a, b := line[i-1], line[i]
	return units.Pressure(a[1] + (b[1]-a[1])*(float64(q)-a[0])/(b[0]-a[0])), true
}

// most is the row with the most air of a collector: the one to paint a dial by.
func most(rows []gaugeRow, collector string) *gaugeRow {
	var out *gaugeRow
	for i := range rows {
		if r := &rows[i]; r.collector == collector && (out == nil || r.flow > out.flow) {
			out = r
		}
	}
	return out
}

// jsonGauge is a row for programs.
type jsonGauge struct {
	State     string  `json:"state"`
	Collector string  `json:"collector"`
	Clean     float64 `json:"inlet_suction_filter_clean_pa"`
	Loaded    float64 `json:"inlet_suction_filter_loaded_pa"`
	Blocked   float64 `json:"inlet_suction_stop_pa,omitempty"`
	Fresh     float64 `json:"filter_new_pa,omitempty"`
	Due       float64 `json:"clean_the_filter_pa,omitempty"`
	Stop      float64 `json:"filter_stop_pa,omitempty"`
}

func gaugesJSON(rows []gaugeRow) []jsonGauge {
	out := []jsonGauge{}
	for _, r := range rows {
		j := jsonGauge{State: r.state, Collector: r.collector, Clean: float64(r.clean), Loaded: float64(r.loaded), Blocked: float64(r.blocked)}
		if r.filter {
			j.Fresh, j.Due, j.Stop = float64(r.fresh), float64(r.due), float64(r.stop)
		}
		out = append(out, j)
	}
	return out
}

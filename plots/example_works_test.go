package plots

import "fmt"

// The larger shop of the golden pictures, in customary units: 18 runs, 12
// tools, 14 states. All of it is invented for these tests.

func worksPlan() PlanData {
	d := PlanData{Title: "Joinery, after the change", Unit: "ft", Collector: PlanMark{"cyclone", at(2, 20, 9)}}
	run := func(name string, size float64, hose bool, label string, path ...[3]float64) {
		d.Runs = append(d.Runs, PlanRun{Name: name, Path: path, Diameter: size, Hose: hose, Changed: label != "", Label: label})
	}
	for i, x := range []float64{8, 16, 24, 32, 40, 48} { // the main along y = 20
		size := []float64{12, 10, 10, 9, 7, 6}[i]
		label := []string{"10 → 12 in", "", "9 → 10 in", "8 → 9 in", "", "5 → 6 in"}[i]
		from := x - 8
		if i == 0 {
			from = 2
		}
		path := [][3]float64{at(x, 20, 12), at(from, 20, 12)}
		if i == 0 {
			path = append(path, at(from, 20, 9))
		}
		run(fmt.Sprintf("main %d", i+1), size, false, label, path...)
		d.Joints = append(d.Joints, at(x, 20, 12))
	}
	names := []string{"jointer", "planer", "rip saw", "shaper", "table saw", "wide belt 1", "wide belt 2", "bandsaw", "edge sander", "router", "lathe", "floor sweep"}
	labels := []string{"", "5 → 6 in", "", "", "4 → 5 in", "6 → 7 in", "6 → 7 in", "", "", "", "new 4 in", "4 → 5 in"}
	for i, name := range names { // two drops to each wye, north and south
		x, y := 8+8*float64(i/2), 20+(2*float64(i%2)-1)*(9+float64(i%4))
		tool := at(x+float64(i%3)-1, y, 3)
		run(name, []float64{5, 6, 4, 5}[i%4], i%5 == 3, labels[i], tool, at(tool[0], y, 12), at(x, 20, 12))
		d.Tools = append(d.Tools, PlanMark{name, tool})
	}
	d.Bleeds = []PlanMark{{"bleed A", at(48, 20, 12)}, {"bleed B", at(32, 20, 12)}}
	return d
}

var worksStates = []string{"jointer", "planer", "rip saw", "shaper", "table saw", "wide belt 1", "wide belt 2", "bandsaw", "edge sander", "router",
	"lathe + sweep", "planer + jointer", "both wide belts", "Friday rush"}

func worksTradeOff() TradeOffData {
	d := TradeOffData{Title: "Cost against air, joinery", Currency: "USD", AsFound: &TradePoint{Flow: 48.5}}
	for i := range 24 { // a crowded front
		pt := TradePoint{Label: fmt.Sprintf("P%d", i+1), Cost: 180 + 230*float64(i) + float64(i*i%7)*60, Proof: Proof(i % 3)}
		pt.Flow = 108 - 58/(1+0.22*float64(i)) + float64(i*i%5)
		if pt.Proof != Optimal {
			pt.Bound = 0.93 * pt.Cost
		}
		pt.Chosen = i == 15
		d.Points = append(d.Points, pt)
	}
	return d
}

func worksFan() FanData {
	d := FanData{Title: "Fan and duct, joinery", FlowUnit: "cfm", PressureUnit: "in w.c."}
	for i := range 12 {
		q := 400 * float64(i)
		d.Fan = append(d.Fan, XY{q, 14.2 - 6.2e-7*q*q})
	}
	for i, s := range worksStates {
		q := 1500 + 137*float64(i)
		if i > 9 { // four states that work at nearly the same point
			q = 2900 + 5*float64(i)
		}
		d.Points = append(d.Points, OperatingPoint{State: s, Flow: q, Pressure: 14.2 - 6.2e-7*q*q})
	}
	return d
}

func worksFlow() FlowData {
	d := FlowData{Title: "Flow at the tools, joinery", Unit: "cfm", NoBefore: true}
	for i, s := range worksStates[:10] {
		d.Rows = append(d.Rows, FlowRow{State: s, Tool: s, After: 480 + 61*float64(i*i%9), Required: 550})
	}
	for i, s := range worksStates[10:] {
		for k, tool := range []string{"lathe", "planer", "wide belt 1"} {
			d.Rows = append(d.Rows, FlowRow{State: s, Tool: tool, After: 620 - 45*float64((i+k)%4), Required: 550})
		}
	}
	return d
}

func worksVelocity() VelocityData {
	d := VelocityData{Title: "Air speed in the runs, joinery", Unit: "fpm", States: worksStates, Ceiling: 6000}
	for _, r := range worksPlan().Runs {
		d.Runs = append(d.Runs, r.Name)
	}
	for k, name := range []string{"before", "after"} {
		panel := VelocityPanel{Name: name}
		for r := range d.Runs {
			var row []VelocityCell
			for s := range d.States {
				row = append(row, VelocityCell{Speed: 2900 + 420*float64(k) + 260*float64((5*r+3*s)%13), Limit: 3500, Dust: (r*s+s)%4 > 0})
			}
			panel.Cells = append(panel.Cells, row)
		}
		d.Panels = append(d.Panels, panel)
	}
	return d
}

func worksPath() PathData {
	d := PathData{Title: "Pressure along the path: Friday rush, lathe", Unit: "in w.c.", Available: 8.6,
		Steps: []PathStep{{"lathe", 1.35, PathEntry}, {"lathe hose", 1.12, PathRun}}}
	for i := 6; i > 0; i-- {
		d.Steps = append(d.Steps, PathStep{fmt.Sprintf("wye %d", i), 0.16 - 0.05*float64(i), PathJunction},
			PathStep{fmt.Sprintf("main %d", i), 0.21 + 0.04*float64(i), PathRun})
	}
	d.Steps = append(d.Steps, PathStep{"cyclone", 2.1, PathFilter}, PathStep{"filter", 0.9, PathFilter})
	return d
}

func worksWaterfall() WaterfallData {
	d := WaterfallData{Title: "Where the pressure goes: Friday rush, lathe", Unit: "in wg", Steps: []Step{
		{"entry of the large lathe at the north wall, with the hood behind the tool rest and its gate", StepEntry, 1.35},
		{"lathe hose, straight", StepStraight, 1.12}, {"lathe hose, bends of the hose as it hangs today", StepBend, 0.31}}}
	add := func(kind StepKind, loss float64, name string, i int) {
		d.Steps = append(d.Steps, Step{fmt.Sprintf(name, i), kind, loss})
	}
	for i := 6; i > 0; i-- {
		add(StepWye, 0.16-0.05*float64(i), "wye %d", i)
		add(StepStraight, 0.21+0.04*float64(i), "main %d, straight", i)
		if i != 3 {
			add(StepBend, 0.09+0.02*float64(i), "main %d, bends and fittings", i)
		}
		if i > 1 {
			add(StepSize, 0.05-0.02*float64(i%3), "main %d, change of size", i)
		}
	}
	d.Steps = append(d.Steps, Step{"inlet of the collector", StepSeparator, 0.42}, Step{"cyclone", StepSeparator, 1.7}, Step{"filter", StepFilter, 0.9},
		Step{"stack, outlet at ridge-height-above-the-roof-of-the-workshop", StepDischarge, 0.38})
	d.Steps = append(d.Steps, Step{"fan at 1020 cfm", StepTotal, d.sum()})
	return d
}

package plots

// The school shop of the golden pictures: 13 runs, 7 tools, 8 states. All of
// it is invented for these tests; no number in it was computed.

// at is a place in the shop.
func at(x, y, z float64) [3]float64 { return [3]float64{x, y, z} }

func schoolPlan() PlanData {
	run := func(name string, d float64, path ...[3]float64) PlanRun {
		return PlanRun{Name: name, Path: path, Diameter: d}
	}
	changed := func(r PlanRun, label string) PlanRun { r.Changed, r.Label = true, label; return r }
	hose := func(r PlanRun) PlanRun { r.Hose = true; return r }
	return PlanData{
		Unit:      "m",
		Collector: PlanMark{"collector", at(-1.5, 3, 1.6)},
		Runs: []PlanRun{
			changed(run("main 1", 200, at(0.5, 3, 3), at(-1.5, 3, 3), at(-1.5, 3, 1.6)), "160 → 200 mm"),
			changed(run("main 2", 180, at(3, 3, 3), at(0.5, 3, 3)), "160 → 180 mm"),
			changed(run("main 3", 160, at(5.5, 3, 3), at(3, 3, 3)), "125 → 160 mm"),
			run("main 4", 125, at(8.5, 3, 3), at(5.5, 3, 3)),
			run("main 5", 125, at(10.5, 3, 3), at(8.5, 3, 3)),
			run("planer drop", 160, at(0.5, 0.8, 1.2), at(0.5, 0.8, 3), at(0.5, 3, 3)),
			run("saw drop", 125, at(3, 5.2, 0.9), at(3, 5.2, 3), at(3, 3, 3)),
			changed(hose(run("saw hood", 100, at(3.4, 5.2, 1.9), at(3.4, 4.2, 2.6), at(3, 4, 3))), "80 → 100 mm"),
			changed(run("bandsaw drop", 125, at(5.5, 0.7, 1.0), at(5.5, 0.7, 3), at(5.5, 3, 3)), "100 → 125 mm"),
			run("sander drop", 125, at(8.5, 5.4, 1.1), at(8.5, 5.4, 3), at(8.5, 3, 3)),
			hose(run("lathe hose", 100, at(8.1, 0.6, 1.2), at(8.5, 1.2, 2.4), at(8.5, 3, 3))),
			run("router drop", 100, at(10.5, 1.1, 1.1), at(10.5, 1.1, 3), at(10.5, 3, 3)),
			changed(hose(run("bench hose", 80, at(11.3, 4.6, 0.9), at(10.9, 4.0, 2.2), at(10.5, 3, 3))), "new 80 mm"),
		},
		Tools: []PlanMark{
			{"planer", at(0.5, 0.8, 1.2)}, {"table saw", at(3, 5.2, 0.9)}, {"saw hood", at(3.4, 5.2, 1.9)},
			{"bandsaw", at(5.5, 0.7, 1.0)}, {"drum sander", at(8.5, 5.4, 1.1)}, {"lathe", at(8.1, 0.6, 1.2)},
			{"router table", at(10.5, 1.1, 1.1)}, {"bench", at(11.3, 4.6, 0.9)},
		},
		Bleeds: []PlanMark{{"bleed 1", at(10.5, 3, 3)}},
		Joints: [][3]float64{at(0.5, 3, 3), at(3, 3, 3), at(3, 4, 3), at(5.5, 3, 3), at(8.5, 3, 3), at(10.5, 3, 3)},
	}
}

// schoolWays is the school as it stands, with ways for new duct: one on a wall
// and one that crosses a duct.
func schoolWays() PlanData {
	d := schoolPlan()
	for i := range d.Runs {
		d.Runs[i].Changed, d.Runs[i].Label = false, ""
	}
	d.Ways = []PlanWay{
		{"south wall", [][3]float64{at(10.5, 1.1, 3), at(10.5, 0, 3), at(-1.5, 0, 3), at(-1.5, 3, 1.6)}, false, false},
		{"over the lathe", [][3]float64{at(8.5, 5.4, 3), at(7, 5.4, 3), at(7, 0.7, 3), at(5.5, 0.7, 3)}, false, false},
	}
	return d
}

var schoolStates = []string{"planer", "table saw", "bandsaw", "drum sander", "lathe", "router table", "bench + lathe", "class of four"}

func schoolTradeOff() TradeOffData {
	return TradeOffData{
		Currency: "EUR",
		AsFound:  &TradePoint{Label: "as found", Flow: 61.3},
		Points: []TradePoint{
			{Label: "bleed only", Cost: 45, Flow: 63.1},
			{Label: "hoses", Cost: 210, Flow: 71.8},
			{Label: "two drops", Cost: 390, Flow: 82.4},
			{Label: "main 1", Cost: 705, Flow: 93.6, Proof: Gap, Bound: 640},
			{Label: "this plan", Cost: 1184, Flow: 100.2, Chosen: true},
			{Label: "main to end", Cost: 1320, Flow: 103.9, Proof: Gap, Bound: 1210},
			{Label: "new filter", Cost: 1730, Flow: 106.4, Proof: Limited, Bound: 1290},
			{Label: "all runs", Cost: 2105, Flow: 104.1, Proof: Limited},
		},
	}
}

func schoolPower() PowerFrontData {
	return PowerFrontData{
		Currency: "EUR",
		Points: []PowerPoint{
			{Label: "least purchase", Cost: 705, Power: 1642},
			{Label: "this plan", Cost: 761, Power: 1583, Chosen: true},
			{Cost: 858, Power: 1540},
			{Label: "wider trunk", Cost: 1010, Power: 1515, Proof: Gap, Bound: 960},
			{Cost: 1184, Power: 1432},
			{Label: "wider drops", Cost: 1620, Power: 1398, Proof: Limited, Bound: 1290},
			{Label: "beaten", Cost: 1700, Power: 1530, Proof: Limited},
		},
	}
}

func schoolFan() FanData {
	d := FanData{
		FlowUnit: "m³/h", PressureUnit: "Pa",
		Fan:   []XY{{0, 2850}, {500, 2790}, {1000, 2640}, {1500, 2380}, {2000, 2010}, {2500, 1530}, {3000, 930}, {3500, 190}},
		Clean: []XY{{0, 2850}, {500, 2805}, {1000, 2690}, {1500, 2490}, {2000, 2200}, {2500, 1820}, {3000, 1350}, {3500, 760}},
	}
	for i, w := range []XY{{1310, 2490}, {1905, 2088}, {1560, 2345}, {1720, 2224}, {980, 2647}, {1240, 2524}, {2080, 1941}, {2440, 1593}} {
		d.Points = append(d.Points, OperatingPoint{State: schoolStates[i], Flow: w.X, Pressure: w.Y})
	}
	return d
}

func schoolFlow() FlowData {
	d := FlowData{Unit: "m³/h"}
	add := func(state int, tool string, before, after, required float64) {
		d.Rows = append(d.Rows, FlowRow{State: schoolStates[state], Tool: tool, Before: before, After: after, Required: required})
	}
	add(0, "planer", 892, 1310, 1020)
	add(1, "table saw", 711, 1120, 1000)
	add(1, "saw hood", 402, 612, 600)
	add(2, "bandsaw", 655, 1240, 850)
	add(3, "drum sander", 940, 1051, 850)
	add(4, "lathe", 590, 702, 500)
	add(5, "router table", 541, 688, 600)
	add(6, "bench", 190, 311, 300)
	add(6, "lathe", 402, 533, 500)
	add(7, "planer", 520, 1022, 1020)
	add(7, "bandsaw", 488, 851, 850)
	add(7, "lathe", 301, 452, 500)
	add(7, "bench", 95, 268, 300)
	return d
}

func schoolVelocity() VelocityData {
	d := VelocityData{Unit: "m/s", States: schoolStates, Ceiling: 32}
	for _, r := range schoolPlan().Runs {
		d.Runs = append(d.Runs, r.Name)
	}
	for k, name := range []string{"before", "after"} {
		panel := VelocityPanel{Name: name}
		for r := range d.Runs {
			var row []VelocityCell
			for s := range d.States {
				c := VelocityCell{Limit: 17.8, Dust: (r+2*s)%3 > 0 || s == 7}
				if c.Speed = 2.1; c.Dust {
					c.Speed = 12.4 + 4.5*float64(k) + float64((7*r+5*s)%16)
				}
				row = append(row, c)
			}
			panel.Cells = append(panel.Cells, row)
		}
		d.Panels = append(d.Panels, panel)
	}
	return d
}

func schoolPath() PathData {
	return PathData{Title: "Pressure along the path: class of four, bandsaw", Unit: "Pa", Available: 1593, Steps: []PathStep{
		{"bandsaw", 412, PathEntry}, {"gate", 38, PathEntry}, {"bandsaw drop", 265, PathRun}, {"wye 3", -46, PathJunction},
		{"main 3", 118, PathRun}, {"wye 2", 21, PathJunction}, {"main 2", 131, PathRun}, {"wye 1", 64, PathJunction},
		{"main 1", 240, PathRun}, {"filter", 350, PathFilter}}}
}

func schoolWaterfall() WaterfallData {
	return WaterfallData{Title: "Where the pressure goes: class of four, bandsaw", Unit: "Pa", Steps: []Step{
		{"entry of bandsaw", StepEntry, 450}, {"bandsaw drop, straight", StepStraight, 173}, {"bandsaw drop, 2 bends", StepBend, 92},
		{"wye 3", StepWye, -46}, {"main 3 and 2, straight", StepStraight, 249}, {"wye 1", StepWye, 85},
		{"main 1, straight", StepStraight, 240}, {"filter", StepFilter, 350}, {"fan", StepTotal, 1593}}}
}

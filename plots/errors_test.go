package plots

import (
	"errors"
	"math"
	"testing"
)

func second(_ *Figure, err error) error { return err }

// edit returns the data with one thing changed.
func edit[T any](data T, change func(*T)) T {
	change(&data)
	return data
}

// TestBadData: nothing to draw and values that cannot be drawn are errors
// that name the picture and the field.
func TestBadData(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, test := range []struct {
		err  error
		kind error
		want string
	}{
		{second(TradeOff(TradeOffData{})), ErrEmpty, "plots: TradeOff: Points: nothing to draw"},
		{second(TradeOff(edit(schoolTradeOff(), func(d *TradeOffData) { d.Points[2].Cost = nan }))), ErrValue, "plots: TradeOff: Points[2].Cost: NaN is not a number that can be drawn"},
		{second(TradeOff(edit(schoolTradeOff(), func(d *TradeOffData) { d.Points[3].Bound = 706 }))), ErrValue, "plots: TradeOff: Points[3].Bound: above the cost"},
		{second(TradeOff(edit(schoolTradeOff(), func(d *TradeOffData) { d.Points[5].Chosen = true }))), ErrValue, "plots: TradeOff: Points[5].Chosen: a second chosen plan"},
		{second(PowerFront(PowerFrontData{})), ErrEmpty, "plots: PowerFront: Points: nothing to draw"},
		{second(PowerFront(edit(schoolPower(), func(d *PowerFrontData) { d.Points[1].Power = -1 }))), ErrValue, "plots: PowerFront: Points[1].Power: -1 is below zero"},
		{second(FanChart(FanData{})), ErrEmpty, "plots: FanChart: Fan: a curve needs two points"},
		{second(FanChart(edit(schoolFan(), func(d *FanData) { d.Fan[1].X = 0 }))), ErrValue, "plots: FanChart: Fan[1].X: does not rise"},
		{second(FanChart(edit(schoolFan(), func(d *FanData) { d.Points[0].State = "" }))), ErrEmpty, "plots: FanChart: Points[0].State: no name"},
		{second(FlowBars(FlowData{})), ErrEmpty, "plots: FlowBars: Rows: nothing to draw"},
		{second(FlowBars(edit(schoolFlow(), func(d *FlowData) { d.Rows[4].After = -1 }))), ErrValue, "plots: FlowBars: Rows[4].After: -1 is below zero"},
		{second(VelocityMap(edit(schoolVelocity(), func(d *VelocityData) { d.Panels = nil }))), ErrEmpty, "plots: VelocityMap: Panels: nothing to draw"},
		{second(VelocityMap(edit(schoolVelocity(), func(d *VelocityData) { d.Runs = d.Runs[1:] }))), ErrValue, "plots: VelocityMap: Panels[0].Cells: 13 rows for 12 runs\nplots: VelocityMap: Panels[1].Cells: 13 rows for 12 runs"},
		{second(PressurePath(PathData{})), ErrEmpty, "plots: PressurePath: Steps: nothing to draw"},
		{second(PressurePath(edit(schoolPath(), func(d *PathData) { d.Steps[1].Loss = inf }))), ErrValue, "plots: PressurePath: Steps[1].Loss: +Inf is not a number that can be drawn"},
		{second(LossWaterfall(WaterfallData{})), ErrEmpty, "plots: LossWaterfall: Steps: nothing to draw"},
		{second(LossWaterfall(edit(schoolWaterfall(), func(d *WaterfallData) { d.Steps = d.Steps[8:] }))), ErrEmpty, "plots: LossWaterfall: Steps: a total of no steps"},
		{second(LossWaterfall(edit(schoolWaterfall(), func(d *WaterfallData) { d.Steps[3].Pressure = nan }))), ErrValue, "plots: LossWaterfall: Steps[3].Pressure: NaN is not a number that can be drawn"},
		{second(LossWaterfall(edit(schoolWaterfall(), func(d *WaterfallData) { d.Steps[1].Label = "" }))), ErrEmpty, "plots: LossWaterfall: Steps[1].Label: no label"},
		{second(LossWaterfall(edit(schoolWaterfall(), func(d *WaterfallData) { d.Steps[1].Kind = stepKinds }))), ErrValue, "plots: LossWaterfall: Steps[1].Kind: unknown"},
		{second(LossWaterfall(edit(schoolWaterfall(), func(d *WaterfallData) { d.Steps[1].Kind = StepTotal }))), ErrValue, "plots: LossWaterfall: Steps[1].Kind: the total is not the last step"},
		{second(LossWaterfall(edit(schoolWaterfall(), func(d *WaterfallData) { d.Steps[8].Pressure = 1598 }))), ErrValue, "plots: LossWaterfall: Steps[8].Pressure: the steps add up to 1593, not to the total of 1598"},
		{second(PressureProfile(ProfileData{})), ErrEmpty, "plots: PressureProfile: Stations: a way needs two stations"},
		{second(PressureProfile(edit(schoolProfile(), func(d *ProfileData) { d.Stations = d.Stations[:1] }))), ErrEmpty, "plots: PressureProfile: Stations: a way needs two stations"},
		{second(PressureProfile(edit(schoolProfile(), func(d *ProfileData) { d.Stations[3].Distance = 1.7 }))), ErrValue, "plots: PressureProfile: Stations[3].Distance: falls"},
		{second(PressureProfile(edit(schoolProfile(), func(d *ProfileData) { d.Stations[2].Distance = nan }))), ErrValue, "plots: PressureProfile: Stations[2].Distance: NaN is not a number that can be drawn"},
		{second(PressureProfile(edit(schoolProfile(), func(d *ProfileData) { d.Stations[4].Total = inf }))), ErrValue, "plots: PressureProfile: Stations[4].Total: +Inf is not a number that can be drawn"},
		{second(PressureProfile(edit(schoolProfile(), func(d *ProfileData) { d.Stations[7].Static = -inf }))), ErrValue, "plots: PressureProfile: Stations[7].Static: -Inf is not a number that can be drawn"},
		{second(ReadChart(ReadData{})), ErrEmpty, "plots: ReadChart: Panels: nothing to draw"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[1].Rows = nil }))), ErrEmpty, "plots: ReadChart: Panels[1].Rows: nothing to draw"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[0].Quantity = "" }))), ErrEmpty, "plots: ReadChart: Panels[0].Quantity: no name"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[0].Rows[4].Place = "" }))), ErrEmpty, "plots: ReadChart: Panels[0].Rows[4].Place: no name"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[0].Rows[3].Read = nan }))), ErrValue, "plots: ReadChart: Panels[0].Rows[3].Read: NaN is not a number that can be drawn"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[1].Rows[2].Doubt = -1 }))), ErrValue, "plots: ReadChart: Panels[1].Rows[2].Doubt: -1 is below zero"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[1].Rows[0].Model = inf }))), ErrValue, "plots: ReadChart: Panels[1].Rows[0].Model: +Inf is not a number that can be drawn"},
		{second(ReadChart(edit(schoolReadings(), func(d *ReadData) { d.Panels[0].Rows[1].Bound = readBounds }))), ErrValue, "plots: ReadChart: Panels[0].Rows[1].Bound: unknown"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Runs = nil }))), ErrEmpty, "plots: PlanView: Runs: nothing to draw"},
		{second(Isometric(edit(schoolPlan(), func(d *PlanData) { d.Runs[1].Path[0][2] = nan }))), ErrValue, "plots: Isometric: Runs[1].Path[0][2]: NaN is not a number that can be drawn"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Runs[3].Path = d.Runs[3].Path[:1] }))), ErrEmpty, "plots: PlanView: Runs[3].Path: a run needs two places"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Runs[3].Diameter = -5 }))), ErrValue, "plots: PlanView: Runs[3].Diameter: -5 is below zero"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Tools[2].At[1] = inf }))), ErrValue, "plots: PlanView: Tools[2].At[1]: +Inf is not a number that can be drawn"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Bleeds[0].Name = "" }))), ErrEmpty, "plots: PlanView: Bleeds[0].Name: no name"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Collector.Name = "" }))), ErrEmpty, "plots: PlanView: Collector.Name: no name"},
		{second(PlanView(edit(schoolPlan(), func(d *PlanData) { d.Joints[4][0] = nan }))), ErrValue, "plots: PlanView: Joints[4][0]: NaN is not a number that can be drawn"},
		{second(PlanView(edit(schoolWays(), func(d *PlanData) { d.Ways[1].Name = "" }))), ErrEmpty, "plots: PlanView: Ways[1].Name: no name"},
		{second(Isometric(edit(schoolWays(), func(d *PlanData) { d.Ways[0].Path = d.Ways[0].Path[:1] }))), ErrEmpty, "plots: Isometric: Ways[0].Path: a way needs two places"},
		{second(PlanView(edit(schoolWays(), func(d *PlanData) { d.Ways[0].Path[1][0] = nan }))), ErrValue, "plots: PlanView: Ways[0].Path[1][0]: NaN is not a number that can be drawn"},
	} {
		var fault *DataError
		if !errors.Is(test.err, test.kind) || !errors.As(test.err, &fault) || test.err.Error() != test.want {
			t.Errorf("error %q, want %q", test.err, test.want)
		}
	}
}

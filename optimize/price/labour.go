package price

import "wyewright/network/units"

// Task is a kind of work, by its name on the bill.
type Task string

// Tasks with a norm. Each is for two hands unless said.
const (
	Hang    Task = "hang duct"            // per metre, hanger included
	Join    Task = "make joint"           // per joint, sealed
	Fit     Task = "fit fitting"          // cut, fit and align one
	Cut     Task = "cut branch into main" // one wye into a duct that stays
	FitGate Task = "fit gate"             // one manual gate
	FitHose Task = "fit hose"             // one hose with clamps and bond
	Strip   Task = "remove old duct"      // per metre
	Reseal  Task = "reseal joint"         // per joint of a duct that stays
	Shorten Task = "shorten hose"         // one hose
	Seam    Task = "close stick seam"     // one stick of snap-lock duct
	CutOut  Task = "cut out fitting"      // one elbow out of a duct that stays
)

// Crew is who does the work.
type Crew uint8

// Crews.
const (
	Amateur Crew = iota
	Professional
)

// String returns "amateur" or "professional".
func (c Crew) String() string {
	if c == Professional {
		return "professional"
	}
	return "amateur"
}

// Norm is the hours of a task by size group and crew (common practice).
type Norm struct {
	Task   Task
	Hours  [3][2]float64 // by size group and Crew
	Unit   string
	Source string
}

// Norms are the labour norms that come with the program.
type Norms map[Task]Norm

// The size groups of the norms: 100–160 mm (4–6 in), 180–200 mm (7–8 in),
// 250–315 mm (10–12 in). The borders lie between the groups; sizes beyond
// either end take the group at that end.
const (
	smallLimit  units.Length = 0.170
	middleLimit units.Length = 0.225
)

// Hours returns the hours of one unit of the task on duct of diameter d. A
// task without a norm panics: the set of tasks is closed.
func (n Norms) Hours(t Task, d units.Length, c Crew) float64 {
	norm, ok := n[t]
	if !ok {
		panic("price: no norm for task " + string(t))
	}
	group := 2
	switch {
	case d < smallLimit:
		group = 0
	case d < middleLimit:
		group = 1
	}
	return norm.Hours[group][c]
}

// Work is the item of a task.
func Work(t Task) Item { return Item{Kind: Labour, Family: string(t)} }

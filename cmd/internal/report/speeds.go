package report

// Speeds are the air speeds, run by state.
type Speeds struct {
	Unit string
	Lead string
	Sets []SpeedSet
}

// SpeedSet are the speeds of the shop before or after; Cells hold them by run,
// then state.
type SpeedSet struct {
	Name         string
	Runs, States []string
	Cells        [][]Speed
}

// Speed is one run in one state.
type Speed struct {
	Text string
	Mark Mark
}

// Mark says in a word how a speed is.
type Mark string

// The marks.
const (
	OK     Mark = "ok"
	Slow   Mark = "slow"
	Fast   Mark = "fast"
	NoDust Mark = "no dust"
	Still  Mark = "still"
	NoRun  Mark = "no duct"
)

// Class names the look of a mark.
func (m Mark) Class() string {
	switch m {
	case OK, Slow, Fast:
		return string(m)
	}
	return "idle"
}

// mostStates is how many states a table has side by side: with more it would
// not go onto a sheet of paper.
const mostStates = 10

// Parts splits a set into tables that go onto a sheet of paper, as equal as
// can be.
func (s SpeedSet) Parts() []SpeedSet {
	n := (len(s.States) + mostStates - 1) / mostStates
	var out []SpeedSet
	for i := range n {
		from, to := i*len(s.States)/n, (i+1)*len(s.States)/n
		part := SpeedSet{Name: s.Name, Runs: s.Runs, States: s.States[from:to]}
		for _, row := range s.Cells {
			part.Cells = append(part.Cells, row[from:to])
		}
		out = append(out, part)
	}
	return out
}

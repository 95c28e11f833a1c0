package report

// Flows are the flows at the tools, before and after, state by state.
type Flows struct {
	Unit string
	// BeforeNote says how the shop before was run.
	Lead string
	Rows []Flow
}

// Flow is one tool in one state.
type Flow struct {
	State, Tool                         string
	Before, After, Required             float64
	BeforeText, AfterText, RequiredText string
	Share, Word                         string
	// Short says that it gets less than it needs, New that there is no before.
	Short, New bool
}

// Measures of the small picture in a row.
const (
	dotsWide = 200.0
	dotsEdge = 8.0
)

// Dots are the places of a row's marks across the small picture, from the left.
type Dots struct{ Before, After, Required float64 }

// Dots places the marks of a row on the scale that all rows share.
func (f *Flows) Dots(r Flow) Dots {
	most := 0.0
	for _, x := range f.Rows {
		most = max(most, x.Before, x.After, x.Required)
	}
	at := func(v float64) float64 { return round(dotsEdge + across(v, most)*(dotsWide-2*dotsEdge)) }
	return Dots{at(r.Before), at(r.After), at(r.Required)}
}

// First reports whether row i begins a state.
func (f *Flows) First(i int) bool { return i == 0 || f.Rows[i].State != f.Rows[i-1].State }

// Span is the number of rows of the state that row i begins.
func (f *Flows) Span(i int) int {
	n := 1
	for i+n < len(f.Rows) && !f.First(i+n) {
		n++
	}
	return n
}

// across is a share of the most, 0 where there is nothing.
func across(v, most float64) float64 {
	if !(most > 0) {
		return 0
	}
	return min(max(v/most, 0), 1)
}

// Bar is the length of a bar of pressure, as a share of the longest step, in
// units of the small picture.
func (p *Pressure) Bar(v float64) float64 {
	most := 0.0
	for _, s := range p.Steps {
		if !s.Sum {
			most = max(most, s.Before, s.After)
		}
	}
	return round(across(v, most) * dotsWide)
}

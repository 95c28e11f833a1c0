package mesh_test

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"wyewright/network/loss"
	"wyewright/network/mesh"
)

const examples = "../../testdata/reference/examples"

// square is Δp = r·q|q|, with a fan of its own: p0 + p1·q + p2·q².
type square struct{ r, p0, p1, p2 float64 }

func (s square) Loss(q float64) (dp, slope float64) {
	return s.r*q*math.Abs(q) - s.p0 - s.p1*q - s.p2*q*q, 2*s.r*math.Abs(q) - s.p1 - 2*s.p2*q
}

// pipe is Δp = c·(k + f·L/D)·q|q| with Colebrook's f.
type pipe struct{ c, lod, re, rel, k float64 }

func (p pipe) Loss(q float64) (dp, slope float64) {
	a := math.Abs(q)
	f, df := 0.0, 0.0
	if a > 0 {
		f, df = loss.Friction(p.re*a, p.rel)
	}
	k := p.k + f*p.lod
	return p.c * k * q * a, p.c * (2*k*a + df*p.re*p.lod*a*a)
}

// newPipe is a pipe in any units: the fall is a head where half is 1/(2g).
func newPipe(d, length, rough, k, half, nu float64) pipe {
	area := math.Pi / 4 * d * d
	return pipe{c: half / (area * area), lod: length / d, re: d / (area * nu), rel: rough / d, k: k}
}

// tight asks for more than a shop needs.
var tight = &mesh.Settings{PressureTol: 1e-9, MassTol: 1e-11}

func solve(t *testing.T, n *mesh.Net) *mesh.Solver {
	t.Helper()
	s := mesh.NewSolver(n, tight)
	if got := s.Run(context.Background(), mesh.Mask{}); got != mesh.Converged {
		p, link, m := s.Residual()
		t.Fatalf("%v after %d steps, %g Pa in link %d, %g m³/s", got, s.Iterations(), p, link, m)
	}
	return s
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %.10g within %g", what, got, want, tol)
	}
}

// rows reads a CSV without its comment lines and its heading.
func rows(t *testing.T, file string) [][]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(examples, file))
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(text)))
	r.Comment, r.FieldsPerRecord = '#', -1
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func read(t *testing.T, file string, into any) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(examples, file))
	if err == nil {
		err = json.Unmarshal(text, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// TestMine: published flows of a real mine, 49 branches and two intakes, to
// 1e-6 m³/s; pressures as printed (1e-6 Pa).
func TestMine(t *testing.T) {
	var head struct {
		Intakes []string
		Outlet  string
		Total   float64 `json:"Q_total"`
	}
	read(t, "02a_mine_network_A/case.json", &head)
	node := map[string]int{}
	for _, id := range head.Intakes {
		node[id] = mesh.Room
	}
	n := &mesh.Net{}
	at := func(id string) int {
		if _, ok := node[id]; !ok {
			node[id] = n.Nodes
			n.Nodes++
		}
		return node[id]
	}
	var want []float64
	for _, r := range rows(t, "02a_mine_network_A/branches.csv") {
		n.Links = append(n.Links, mesh.Link{From: at(r[1]), To: at(r[2]), Law: square{r: number(t, r[5])}, Guess: 30})
		want = append(want, number(t, r[6]))
	}
	n.Demand = make([]float64, n.Nodes)
	n.Demand[node[head.Outlet]] = head.Total
	s := solve(t, n)
	for i := range n.Links {
		near(t, "branch", s.Flow(i), want[i], 1e-6)
	}
	for _, r := range rows(t, "02a_mine_network_A/nodes.csv") {
		if at := node[r[0]]; at != mesh.Room {
			p, _ := s.Pressure(at)
			near(t, "node "+r[0], -p, number(t, r[1]), 5e-4)
		}
	}
	if mass, gap := n.Closure(want); mass > 1e-8 || gap > 1e-4 {
		t.Errorf("the published flows leave %g m³/s and %g Pa", mass, gap)
	}
}

// TestFanRecirculation: 64 published cases of a fan whose curve rises from
// rest and drives air round a loop, to 1e-6 m³/s. The published node pressures
// have a sign wrong and are not used.
func TestFanRecirculation(t *testing.T) {
	cases := rows(t, "03_fan_recirculation_64/cases.csv")
	if len(cases) != 64 {
		t.Fatalf("%d cases", len(cases))
	}
	for _, c := range cases {
		a2, r := number(t, c[1]), square{r: number(t, c[2])}
		n := &mesh.Net{Nodes: 5, Demand: []float64{0, 0, 0, 0, 12}} // 1 is the room, 2 to 6 follow
		const one, two, three, four, five, six = mesh.Room, 0, 1, 2, 3, 4
		n.Links = []mesh.Link{{From: one, To: two, Law: square{0.05, 200, 30, a2}, Guess: 60},
			{From: two, To: three, Law: r}, {From: one, To: three, Law: r}, {From: three, To: four, Law: r},
			{From: four, To: five, Law: r}, {From: five, To: six, Law: r}, {From: three, To: five, Law: r}}
		s := solve(t, n)
		for i := range n.Links {
			near(t, c[0]+" branch "+strconv.Itoa(i+1), s.Flow(i), number(t, c[3+i]), 1e-6)
		}
		if !s.Stable() {
			t.Errorf("%s: the fan would not stay there", c[0])
		}
	}
}

// TestTwoLoops: two pipe networks of two loops each with Colebrook's friction,
// as printed (tolerance of the source, whose chapter 5 fits a power law) and as
// recomputed (all digits given).
func TestTwoLoops(t *testing.T) {
	const gpm = 231.0 / 1728 / 60 // US gallons a minute in ft³/s
	type answers struct {
		Flow []float64 `json:"flow_cfs"`
		Head []float64 `json:"head_ft"`
	}
	// Node 0 of the lists is the room. The ends follow from the node
	// equations of chapter 5 and from the loops of chapter 7, whose demands
	// are what its starting flows leave.
	for _, c := range []struct {
		file          string
		ends          [][2]int
		demand        []float64 // ft³/s
		printed, mine float64
	}{
		{"08_jeppson_two_loops/ch5.json", [][2]int{{0, 1}, {2, 1}, {3, 2}, {0, 3}, {1, 4}, {5, 4}, {5, 2}},
			[]float64{0, 1500 * gpm, 1000 * gpm, 1500 * gpm, -2000 * gpm}, 1.5e-3, 1e-4},
		{"08_jeppson_two_loops/ch7.json", [][2]int{{0, 1}, {1, 2}, {3, 2}, {0, 3}, {4, 1}, {4, 5}, {5, 2}},
			[]float64{0, 5.12, 0.67, -3.34, 0.89}, 1e-4, 6e-6},
	} {
		var in struct {
			Nu    float64 `json:"nu_ft2_s"`
			G     float64
			Pipes []struct {
				D     float64 `json:"D_in"`
				L     float64 `json:"L_ft"`
				Rough float64 `json:"rough_in"`
			}
			Printed, Recomputed answers
		}
		read(t, c.file, &in)
		n := &mesh.Net{Nodes: 5, Demand: c.demand}
		for i, p := range in.Pipes {
			n.Links = append(n.Links, mesh.Link{From: c.ends[i][0] - 1, To: c.ends[i][1] - 1, Guess: 1,
				Law: newPipe(p.D/12, p.L, p.Rough/12, 0, 1/(2*in.G), in.Nu)})
		}
		s := solve(t, n)
		for i := range n.Links {
			near(t, c.file+" printed", s.Flow(i), in.Printed.Flow[i], c.printed*in.Printed.Flow[i])
			near(t, c.file+" recomputed", s.Flow(i), in.Recomputed.Flow[i], c.mine)
			if len(in.Printed.Head) > 0 {
				h, _ := n.Links[i].Law.Loss(s.Flow(i))
				near(t, c.file+" printed head", h, in.Printed.Head[i], 1.5e-3*in.Printed.Head[i])
				near(t, c.file+" recomputed head", h, in.Recomputed.Head[i], 1e-4)
			}
		}
	}
}

// TestParallelPipes: Douglas, Fluid Mechanics, 5th ed. 2005, example 14.7: two
// pipes in parallel, one behind them, half of the flow through the last.
// h = f·l/(3d⁵)·q² with the example's own rounded constant.
func TestParallelPipes(t *testing.T) {
	var in struct {
		Cases []struct {
			ID    string
			F     float64
			HA    float64 `json:"H_A"`
			HF    float64 `json:"H_F"`
			Pipes map[string]struct{ D, L float64 }

			Printed, Recomputed struct {
				Total float64 `json:"total_Q"`
				HC    float64 `json:"H_C"`
			}
		}
	}
	read(t, "09_douglas_ducts/cases.json", &in)
	c := in.Cases[2]
	law := func(name string) square {
		p := c.Pipes[name]
		return square{r: c.F * p.L / (3 * math.Pow(p.D, 5))}
	}
	const a, b, cc = 0, 1, 2
	// The head at A and F are constant falls from the room; half of the flow
	// leaves at C, as a demand that is found by halving.
	n := &mesh.Net{Nodes: 3, Demand: make([]float64, 3)}
	up := square{p0: c.HA}
	n.Links = []mesh.Link{{From: mesh.Room, To: a, Law: up}, {From: a, To: b, Law: law("AA1B")}, {From: a, To: b, Law: law("AA2B")},
		{From: b, To: cc, Law: law("BC")}, {From: cc, To: mesh.Room, Law: square{r: law("CF").r, p0: -c.HF}}}
	s := mesh.NewSolver(n, &mesh.Settings{PressureTol: 1e-9})
	for range 100 {
		if got := s.Run(context.Background(), mesh.Mask{}); got != mesh.Converged {
			t.Fatal(got)
		}
		n.Demand[cc] += (s.Flow(4) - n.Demand[cc]) / 2
	}
	h, _ := s.Pressure(cc)
	near(t, "total flow, printed", s.Flow(3), c.Printed.Total, 1e-5)
	near(t, "head at C, printed", h, c.Printed.HC, 5e-3)
	near(t, "total flow, recomputed", s.Flow(3), c.Recomputed.Total, 1e-6)
	near(t, "head at C, recomputed", h, c.Recomputed.HC, 1e-4)
}

// TestDouglasDucts: the fan pressures of examples 14.5 (two ducts in series) and
// 14.6 (four branches into a main) of the same book, printed and recomputed. f is
// Fanning's: the loss is (K + 4f·L/D)·½ρV².
func TestDouglasDucts(t *testing.T) {
	type duct struct{ D, L, K, Q float64 }
	var in struct {
		Cases []struct {
			Q, Rho, F float64
			Inlet     struct {
				D, L, K float64
				Eq      float64 `json:"transition_eq_len_D"`
			}
			Outlet struct{ W, H, L, K float64 }
			Branch duct
			Main   struct {
				D, L, Q float64
				Eq      float64 `json:"eq_len_D"`
			}
			Printed    float64 `json:"printed_fan_Pa"`
			Recomputed struct{ Total float64 }
		}
	}
	read(t, "09_douglas_ducts/cases.json", &in)
	r := func(rho, area, k float64) square { return square{r: rho / 2 / (area * area) * k} }
	circle := func(d float64) float64 { return math.Pi / 4 * d * d }

	// 14.5: what the flow loses on the way is what the fan must give.
	a := in.Cases[0]
	hydraulic := 2 * a.Outlet.W * a.Outlet.H / (a.Outlet.W + a.Outlet.H)
	series := &mesh.Net{Nodes: 2, Demand: []float64{0, a.Q}, Links: []mesh.Link{
		{From: mesh.Room, To: 0, Law: r(a.Rho, circle(a.Inlet.D), a.Inlet.K+4*a.F*(a.Inlet.L/a.Inlet.D+a.Inlet.Eq))},
		{From: 0, To: 1, Law: r(a.Rho, a.Outlet.W*a.Outlet.H, a.Outlet.K+4*a.F*a.Outlet.L/hydraulic)}}}
	p, _ := solve(t, series).Pressure(1)
	near(t, "14.5, printed", -p, a.Printed, 0.1)
	near(t, "14.5, recomputed", -p, a.Recomputed.Total, 0.01)

	b := in.Cases[1]
	joined := &mesh.Net{Nodes: 2, Demand: []float64{0, 4 * b.Branch.Q}}
	for range 4 {
		joined.Links = append(joined.Links, mesh.Link{From: mesh.Room, To: 0, Law: r(b.Rho, circle(b.Branch.D), b.Branch.K+4*b.F*b.Branch.L/b.Branch.D)})
	}
	joined.Links = append(joined.Links, mesh.Link{From: 0, To: 1, Law: r(b.Rho, circle(b.Main.D), 4*b.F*(b.Main.L/b.Main.D+b.Main.Eq))})
	s := solve(t, joined)
	p, _ = s.Pressure(1)
	near(t, "14.6, printed", -p, b.Printed, 0.01)
	near(t, "14.6, recomputed", -p, b.Recomputed.Total, 1e-3)
	near(t, "14.6, a branch", s.Flow(0), b.Branch.Q, 1e-9)
}

// TestFanInALoop: the fan and duct loop of the verification suite of the Fire
// Dynamics Simulator: dp = 10(1 − (Q/0.16)²) round a duct of K 10.
func TestFanInALoop(t *testing.T) {
	var in struct {
		Cases []struct {
			ID   string
			Rho  float64
			Duct struct{ Area, K float64 }

			Printed, Recomputed struct{ Q, Dp float64 }
		}
	}
	read(t, "12_small_exact_networks/cases.json", &in)
	c := in.Cases[1]
	if c.ID != "fan_and_duct_loop" {
		t.Fatal(c.ID)
	}
	n := &mesh.Net{Nodes: 1, Links: []mesh.Link{{From: mesh.Room, To: 0, Law: square{p0: 10, p2: -10 / (0.16 * 0.16)}, Guess: 0.1},
		{From: 0, To: mesh.Room, Law: square{r: c.Rho / 2 / (c.Duct.Area * c.Duct.Area) * c.Duct.K}, Guess: 0.1}}}
	s := solve(t, n)
	p, _ := s.Pressure(0)
	near(t, "flow, printed", s.Flow(0), c.Printed.Q, 1e-6)
	near(t, "flow, recomputed", s.Flow(1), c.Recomputed.Q, 1e-6)
	near(t, "pressure, printed", p, c.Printed.Dp, 1e-4)
}

// TestFiveBranchMine: a bridge of five airways, recomputed from published
// resistances; the published first pass of an iteration is far from it.
func TestFiveBranchMine(t *testing.T) {
	var in struct {
		R    map[string]float64
		Want map[string]float64 `json:"recomputed_converged"`
	}
	read(t, "13_micro_checks/five_branch_mine.json", &in)
	law := func(id string) square { return square{r: in.R[id]} }
	n := &mesh.Net{Nodes: 3, Demand: []float64{0, 0, 47}, Links: []mesh.Link{{From: mesh.Room, To: 0, Law: law("2"), Guess: 20},
		{From: mesh.Room, To: 1, Law: law("3"), Guess: 20}, {From: 0, To: 1, Law: law("4"), Guess: 20},
		{From: 0, To: 2, Law: law("5"), Guess: 20}, {From: 1, To: 2, Law: law("6"), Guess: 20}}}
	s := solve(t, n)
	for i, id := range []string{"q2", "q3", "q4", "q5", "q6"} {
		near(t, id, s.Flow(i), in.Want[id], 1e-5)
	}
}

// TestWrongInPrint: published answers that break their own law are rejected by
// the closure, and the solver gives the recomputed ones.
func TestWrongInPrint(t *testing.T) {
	type variant struct {
		Name       string
		R          []float64
		Recomputed []float64 `json:"recomputed_q"`
		Loss       float64   `json:"recomputed_total_loss_Pa"`
	}
	var in struct {
		Bridge struct {
			Total    float64 `json:"Q_total"`
			Branches []struct {
				From, To int
				R        float64
			}
			Printed    []float64 `json:"printed_q"`
			Recomputed []float64 `json:"recomputed_q"`
			Loss       float64   `json:"recomputed_total_loss_Pa"`
			Variants   []variant
		} `json:"bridge_8_branch"`
	}
	read(t, "14_negative_controls/cases.json", &in)
	b := in.Bridge
	n := &mesh.Net{Nodes: 5, Demand: []float64{0, 0, 0, 0, b.Total}}
	all := variant{Name: "as printed", Recomputed: b.Recomputed, Loss: b.Loss}
	for _, l := range b.Branches {
		n.Links = append(n.Links, mesh.Link{From: l.From - 2, To: l.To - 2, Guess: 30})
		all.R = append(all.R, l.R)
	}
	for _, v := range append([]variant{all}, b.Variants...) {
		for i, r := range v.R {
			n.Links[i].Law = square{r: r}
		}
		s := solve(t, n)
		for i := range n.Links {
			near(t, v.Name, s.Flow(i), v.Recomputed[i], 1e-5)
		}
		p, _ := s.Pressure(4)
		near(t, v.Name+" loss", -p, v.Loss, 1e-4)
		if mass, gap := n.Closure(v.Recomputed); mass > 1e-4 || gap > 0.01 {
			t.Errorf("%s: the recomputed flows leave %g m³/s and %g Pa", v.Name, mass, gap)
		}
		if mass, gap := n.Closure(b.Printed); mass < 1 && gap < 1 {
			t.Errorf("%s: the printed flows pass with %g m³/s and %g Pa", v.Name, mass, gap)
		}
	}
}

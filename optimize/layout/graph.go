package layout

// arc is an edge in one direction, toward the root.
type arc struct {
	from, to, edge int
	reverse        bool
}

// graph holds arcs by their ends.
type graph struct {
	n, root int
	arcs    []arc
	out, in [][]int // arcs by point
}

// link fills out and in. Nothing leaves the root.
func (g *graph) link() {
	g.out, g.in = make([][]int, g.n), make([][]int, g.n)
	for a, x := range g.arcs {
		if x.from != g.root {
			g.out[x.from] = append(g.out[x.from], a)
			g.in[x.to] = append(g.in[x.to], a)
		}
	}
}

// distances are the least sums of weights of arcs between the point s and every
// other: from s, or with back to s.
func (g *graph) distances(s int, weight []float64, back bool) []float64 {
	row := make([]float64, g.n)
	for v := range row {
		row[v] = inf
	}
	row[s] = 0
	g.settle(row, weight, back, nil, make([]bool, g.n))
	return row
}

// settle is Dijkstra's method on a row of sums by point: along the arcs, or
// with back against them. step, if not nil, gets −1−arc where one lowers a sum.
// done holds points from which nothing can lower another sum, and in the end
// all that are reached.
func (g *graph) settle(row, weight []float64, back bool, step []int32, done []bool) {
	for {
		v := -1
		for u, x := range row {
			if !done[u] && x < inf && (v < 0 || x < row[v]) {
				v = u
			}
		}
		if v < 0 {
			return
		}
		done[v] = true
		next := g.out[v]
		if back {
			next = g.in[v]
		}
		for _, a := range next {
			w := g.arcs[a].to
			if back {
				w = g.arcs[a].from
			}
			if x := row[v] + weight[a]; x < row[w] {
				row[w], done[w] = x, false
				if step != nil {
					step[w] = int32(-1 - a)
				}
			}
		}
	}
}

// thin leaves one of the used arcs out of every point, so that all lead to the
// root.
func (g *graph) thin(used []bool) []bool {
	on := make([]bool, len(used))
	seen := make([]bool, g.n)
	seen[g.root] = true
	todo := []int{g.root}
	for len(todo) > 0 {
		v := todo[0]
		todo = todo[1:]
		for _, a := range g.in[v] {
			if u := g.arcs[a].from; used[a] && !seen[u] {
				seen[u], on[a] = true, true
				todo = append(todo, u)
			}
		}
	}
	return on
}

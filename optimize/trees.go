package optimize

import (
	"context"
	"slices"
)

type listed struct {
	all []struct {
		tree []step
		cost int64
	}
	at int
}

func (l *listed) next(context.Context) ([]step, int64, bool) {
	if l.at == len(l.all) {
		return nil, 0, false
	}
	l.at++
	return l.all[l.at-1].tree, l.all[l.at-1].cost, true
}

func (l *listed) bound() int64 {
	if l.at == len(l.all) {
		return 1 << 50
	}
	return l.all[l.at].cost
}

func newTrees(g *graph) (trees, error) {
	l := &listed{}
	for mask := range uint64(1) << len(g.edges) {
		if tree, cost, ok := g.tree(mask); ok {
			l.all = append(l.all, struct {
				tree []step
				cost int64
			}{tree, cost})
		}
	}
	slices.SortStableFunc(l.all, func(a, b struct {
		tree []step
		cost int64
	}) int {
		return int(a.cost - b.cost)
	})
	return l, nil
}

// tree orients a set of edges toward the root, if it is a tree that ends at
// terminals.
func (g *graph) tree(mask uint64) (out []step, cost int64, ok bool) {
	seen := make([]bool, g.points)
	leaf := make([]bool, g.points)
	seen[g.root] = true
	left := mask
	for grown := true; grown; {
		grown = false
		for i, e := range g.edges {
			if left>>i&1 == 0 {
				continue
			}
			switch {
			case seen[e.from] && seen[e.to]:
				return nil, 0, false
			case seen[e.to]:
				out = append(out, step{i, false})
				seen[e.from], leaf[e.from], leaf[e.to] = true, true, false
			case seen[e.from]:
				out = append(out, step{i, true})
				seen[e.to], leaf[e.to], leaf[e.from] = true, true, false
			default:
				continue
			}
			left &^= 1 << i
			cost += e.cost
			grown = true
		}
	}
	if left != 0 {
		return nil, 0, false
	}
	for p := range leaf {
		if leaf[p] && !slices.Contains(g.terminals, p) {
			return nil, 0, false
		}
	}
	for _, t := range g.terminals {
		if !seen[t] {
			return nil, 0, false
		}
	}
	return out, cost, true
}

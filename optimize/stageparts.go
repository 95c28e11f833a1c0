package optimize

import "slices"

// mostUnits is the number of parts that a set in one word holds.
const mostUnits = 60

// unit is what is bought in one go: choices of the plan, and perhaps the ways
// and the collector that its problem takes as decided.
type unit struct {
	choices []int
	taken   bool
}

// changed lists the choices that a plan changes.
func (p *Problem) changed(pl *Plan) []int {
	var out []int
	for i, a := range pl.Pick {
		if a > 0 || p.Choices[i].Build {
			out = append(out, i)
		}
	}
	return out
}

// singles are the units where joints may be made in every stage: each change
// for itself, but that runs to be built come with their ways.
func (p *Problem) singles(pl *Plan) []unit {
	var out []unit
	if p.Taken.Changes() {
		out = append(out, unit{taken: true})
	}
	for _, i := range p.changed(pl) {
		if p.Choices[i].Build {
			out[0].choices = append(out[0].choices, i)
		} else {
			out = append(out, unit{choices: []int{i}})
		}
	}
	return out
}

// apart are the units where every joint is made once at most: changes that meet
// at a joint which each of them alters are one.
func (p *Problem) apart(pl *Plan) []unit {
	out := p.singles(pl)
	of := map[int]int{} // the group of each choice, −1 stands for what is taken
	for u := range out {
		if out[u].taken {
			of[-1] = u
		}
		for _, i := range out[u].choices {
			of[i] = u
		}
	}
	group := make([]int, len(out))
	for u := range group {
		group[u] = u
	}
	for k := range p.joints {
		first := -1
		for _, e := range p.makers(&p.joints[k], pl) {
			g := group[of[e]]
			if first < 0 {
				first = g
			}
			for u := range group {
				if group[u] == g {
					group[u] = first
				}
			}
		}
	}
	var merged []unit
	at := map[int]int{}
	for u := range out {
		n, ok := at[group[u]]
		if !ok {
			n = len(merged)
			at[group[u]] = n
			merged = append(merged, unit{})
		}
		merged[n].choices = append(merged[n].choices, out[u].choices...)
		merged[n].taken = merged[n].taken || out[u].taken
	}
	for u := range merged {
		slices.Sort(merged[u].choices)
	}
	return merged
}

// makers lists the changes of a plan that have a say in what a joint is made
// of: the choices of its ends, −1 for ways and collector that are taken.
func (p *Problem) makers(j *joint, pl *Plan) []int {
	ends := [3]int{j.main, j.branch, j.common}
	var out []int
	for n, e := range ends {
		if e >= 0 && !slices.Contains(out, e) && (pl.Pick[e] > 0 || p.Choices[e].Build) && p.alters(j, pl, n) {
			out = append(out, e)
		}
	}
	if j.remade != [3]bool{} {
		out = append(out, -1)
	}
	return out
}

// alters reports whether an end of a joint makes a difference to what the joint
// is made of, whatever the other ends are, as found or as planned.
func (p *Problem) alters(j *joint, pl *Plan, end int) bool {
	choice := [3]int{j.main, j.branch, j.common}
	for others := range 8 {
		var with, without [3]int
		for n, e := range choice {
			if e >= 0 && (n == end || others>>n&1 > 0) {
				with[n] = pl.Pick[e]
			}
			if n != end {
				without[n] = with[n]
			}
		}
		if !p.sameJoint(j, with, without) {
			return true
		}
	}
	return false
}

// sameJoint reports whether a joint is made of the same under two alternatives
// of its ends.
func (p *Problem) sameJoint(j *joint, a, b [3]int) bool {
	if a == b || j.at(a[0], a[1], a[2]) != j.at(b[0], b[1], b[2]) {
		return a == b
	}
	if p.builder == nil {
		return true
	}
	la, _ := p.jointLines(j, a[0], a[1], a[2])
	lb, _ := p.jointLines(j, b[0], b[1], b[2])
	return slices.Equal(la, lb)
}

package cli

import (
	"math"

	"wyewright/network"
	"wyewright/optimize"
)

// worstOf is the worst ratio of what is there to what is asked, of whom and in which state.
type worstOf struct {
	ratio      float64
	who, state string
}

func (w *worstOf) note(ratio float64, who, state string) {
	if ratio < w.ratio {
		*w = worstOf{ratio, who, state}
	}
}

// tally is how an option does over all states.
type tally struct {
	// asked counts the tools of all states, served those that get their flow; met
	// counts the states in which everything holds.
	asked, served, met int
	// least is the least share of flow, slow the least share of transport
	// velocity, fast the worst above the ceiling; the counts are of those that
	// miss.
	least, slow, fast   worstOf
	short, slows, fasts int
	// backward and blown name runs and collectors with the air the wrong way.
	backward, blown []string
	// motor is the one loaded most: ratio is rating over load.
	motor  worstOf
	load   network.MotorVerdict
	motors bool
}

// count fills the tally of an option.
func (r *rival) count() {
	none := worstOf{ratio: math.Inf(1)}
	t := tally{least: none, slow: none, fast: none, motor: none}
	spec := r.n.Spec()
	for _, s := range r.states {
		if s.Verdict.Meets() {
			t.met++
		}
		for _, v := range s.Verdict.Tools {
			if t.asked++; network.Meets(v.Ratio) {
				t.served++
			} else {
				t.short++
			}
			t.least.note(v.Ratio, spec.Tools[v.Tool].ID, s.State.Name)
		}
		for _, d := range s.Verdict.Dust {
			if !network.Meets(d.Ratio) {
				t.slows++
			}
			t.slow.note(d.Ratio, spec.Runs[d.Run].ID, s.State.Name)
		}
		for _, d := range s.Verdict.Fast {
			t.fasts++
			t.fast.note(d.Ratio, spec.Runs[d.Run].ID, s.State.Name)
		}
		for _, run := range s.Verdict.Backward {
			t.backward = append(t.backward, spec.Runs[run].ID+" in "+s.State.Name)
		}
		for _, c := range s.Verdict.Blown {
			t.blown = append(t.blown, spec.Collectors[c].ID+" in "+s.State.Name)
		}
		t.power(s)
	}
	r.tally = t
}

// power notes the load of the motor in a state.
func (t *tally) power(s optimize.StateResult) {
	m := s.Verdict.Motor
	if t.motors = t.motors || m.Checked; !m.Checked || m.Load <= 0 {
		return
	}
	if ratio := float64(m.Rating / m.Load); ratio < t.motor.ratio {
		t.motor, t.load = worstOf{ratio, "", s.State.Name}, m
	}
}

// meets reports whether an option can be had and meets everything.
func (r *rival) meets() bool { return r.off == "" && allMeet(r.states) }

package cli

import (
	"errors"
	"slices"
	"strings"

	"wyewright/network"
)

// toolState is a tool that runs in a state.
type toolState struct{ state, tool string }

// toolStates are those of all options, in the order of the first that has them.
func (s *comparison) toolStates() []toolState {
	var out []toolState
	for _, r := range s.shown() {
		spec := r.n.Spec()
		for _, st := range r.states {
			for _, v := range st.Verdict.Tools {
				if x := (toolState{st.State.Name, spec.Tools[v.Tool].ID}); !slices.Contains(out, x) {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// tool is how a tool does in a state of an option, nil where it does not run.
func (r *rival) tool(x toolState) *network.ToolVerdict {
	spec := r.n.Spec()
	for i := range r.states {
		if r.states[i].State.Name != x.state {
			continue
		}
		for k, v := range r.states[i].Verdict.Tools {
			if spec.Tools[v.Tool].ID == x.tool {
				return &r.states[i].Verdict.Tools[k]
			}
		}
	}
	return nil
}

// shown are the options that can be had.
func (s *comparison) shown() []*rival {
	return slices.DeleteFunc(slices.Clone(s.rivals), func(r *rival) bool { return r.off != "" })
}

// some refuses a comparison in which nothing that was asked for can be had.
func (s *comparison) some() error {
	var why []string
	for _, r := range s.rivals {
		if r.off == "" && !r.asFound && !r.free {
			return nil
		}
		if r.off != "" {
			why = append(why, r.name+": "+r.off)
		}
	}
	return fail(Usage, errors.New("nothing of what is to be compared can be had: "+strings.Join(why, "; ")), "take sizes and families that are sold and have a price")
}

// finish counts how the options do.
func (s *comparison) finish() {
	for _, r := range s.shown() {
		r.count()
	}
}

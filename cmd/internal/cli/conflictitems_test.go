package cli

import (
	"testing"

	"wyewright/optimize"
)

// TestConflictItems: a long list of which perhaps only some conflict is cut, a
// proven one never. Hand-worked.
func TestConflictItems(t *testing.T) {
	reqs := make([]optimize.Requirement, 20)
	for i := range reqs {
		reqs[i] = optimize.Requirement{Rule: optimize.MotorRule}
	}
	o := &outcome{problem: &optimize.Problem{}, answers: answers{conflict: &optimize.Conflict{Status: optimize.Infeasible, Requirements: reqs}}}
	if got := o.conflictItems(); len(got) != 9 || got[8] != "and 12 more; with a longer --conflict-time perhaps fewer" {
		t.Errorf("%q", got)
	}
	o.answers.conflict.Irreducible = true
	if got := o.conflictItems(); len(got) != 20 {
		t.Errorf("%d of a proven list", len(got))
	}
	o.answers.conflict.Irreducible, o.answers.conflict.Requirements = false, reqs[:9]
	if got := o.conflictItems(); len(got) != 9 {
		t.Errorf("%d of nine", len(got))
	}
}

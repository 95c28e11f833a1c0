package cli

import (
	"fmt"
	"strings"

	"wyewright/network/units"
)

// misses says in words what an option misses, the worst of each kind. In brief it
// leaves out the states, and how often.
func (r *rival) misses(sys units.System, brief bool) []string {
	var out []string
	add := func(n int, state, format string, args ...any) {
		text := fmt.Sprintf(format, args...)
		if !brief && state != "" {
			text += fmt.Sprintf(" in %q", state)
		}
		if !brief && n > 1 {
			text += fmt.Sprintf(" (and %d more)", n-1)
		}
		out = append(out, text)
	}
	if r.short > 0 {
		add(r.short, r.least.state, "%s gets %s %% of its flow", r.least.who, percent(r.least.ratio))
	}
	if len(r.backward) > 0 {
		add(len(r.backward), "", "air runs backward in %s", r.backward[0])
	}
	if len(r.blown) > 0 {
		add(len(r.blown), "", "air is pulled backward through %s", r.blown[0])
	}
	if r.slows > 0 {
		add(r.slows, r.slow.state, "dust may settle in %s at %s %% of its transport velocity", r.slow.who, percent(r.slow.ratio))
	}
	if r.fasts > 0 {
		add(r.fasts, r.fast.state, "air in %s is above the ceiling", r.fast.who)
	}
	if r.load.Checked && !r.load.OK() {
		add(1, r.motor.state, "the motor is overloaded, %s of %s", r.load.Load.Text(sys), r.load.Rating.Text(sys))
	}
	return out
}

// verdict says in words how an option does.
func (r *rival) verdict(sys units.System) string {
	misses := "misses: " + strings.Join(r.misses(sys, false), "; ")
	switch {
	case r.off != "":
		return "cannot be had: " + r.off
	case r.meets():
		return "meets everything"
	case r.failed:
		return r.status + ": the plan that comes closest " + misses
	}
	return misses
}

package cli

import (
	"strings"

	"wyewright/network"
)

// changedSize says in few words what becomes of a run, for a picture: "200 → 180
// mm", "4 in hose → 5 in", "3 in hose → pipe", "4 in, new".
func changedSize(was, now network.Piece) string {
	from, to := was.Size, now.Size
	switch {
	case was.Make.Hose() && !now.Make.Hose():
		if from == to {
			return from + " hose → pipe"
		}
		return from + " hose → " + to
	case from == to && was.Make.Hose():
		return to + " hose, new"
	case from == to:
		return to + ", new"
	}
	number, unit, ok := strings.Cut(from, " ")
	if _, same, _ := strings.Cut(to, " "); ok && unit == same {
		return number + " → " + to
	}
	return from + " → " + to
}

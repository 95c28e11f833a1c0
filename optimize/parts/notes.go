package parts

import (
	"slices"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Notes say what to know about the parts of a bill (common practice).
func (b *Bill) Notes(sys units.System) []string {
	has := func(kinds ...price.Kind) bool {
		return slices.ContainsFunc(b.Rows, func(r Row) bool { return r.Action == Buy && slices.Contains(kinds, r.Item.Kind) })
	}
	var out []string
	if has(price.Hanger) {
		where := "0.6 m of each elbow and 1.2 m of each branch, otherwise every 2.5 to 3.5 m"
		if sys == units.US {
			where = "2 ft of each elbow and 4 ft of each branch, otherwise every 8 to 12 ft"
		}
		out = append(out, "Hangers: one within "+where+".")
	}
	if has(price.Sealant, price.Screws) {
		out = append(out, "Sealant: a seam all round every joint; screws short enough not to catch chips.")
	}
	if has(price.Bonding, price.Hose) {
		out = append(out, "Bonding: the wire of a hose to the metal at both its ends, and metal to metal across gaskets and plastic; a wire does not earth a plastic wall.")
	}
	if slices.ContainsFunc(b.Rows, func(r Row) bool { return r.Spare }) {
		out = append(out, "Spares (common practice): one coupling in ten, a tube of sealant, a stick where less is left over than the waste allows for.")
	}
	return out
}

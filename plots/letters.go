package plots

import "slices"

// lettered puts a letter in the place of each label of a run, the same for equal
// labels, and returns the key to them.
func (d PlanData) lettered() (PlanData, []entry) {
	d.Runs = slices.Clone(d.Runs)
	var labels []string
	var key []entry
	for i := range d.Runs {
		r := &d.Runs[i]
		if r.Label == "" {
			continue
		}
		k := slices.Index(labels, r.Label)
		if k < 0 {
			k, labels = len(labels), append(labels, r.Label)
			letter := letter(k)
			key = append(key, entry{smallBold.width(letter), func(p *pen, at xy) { p.text(smallBold, letter, at, 0.5, 0.5) }, r.Label})
		}
		r.Label = letter(k)
	}
	return d, key
}

// letter counts a, b, … z, aa, ab, …
func letter(k int) string {
	if k < 26 {
		return string(rune('a' + k))
	}
	return letter(k/26-1) + letter(k%26)
}

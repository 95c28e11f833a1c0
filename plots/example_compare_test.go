package plots

import "fmt"

// compareOption makes an option of shares in per cent, those of the tools first,
// that of the slowest dust run last.
func compareOption(name, cost, run string, shares ...float64) CompareOption {
	o := CompareOption{Name: name, Cost: cost, Run: run, Meets: true, Verdict: "meets everything"}
	for _, s := range shares {
		c := CompareShare{Percent: max(0, s), None: s < 0}
		if !c.meets() {
			o.Meets, o.Verdict = false, "3 of 5 states"
		}
		o.Shares = append(o.Shares, c)
	}
	last := len(o.Shares) - 1
	o.Shares, o.Slowest = o.Shares[:last], o.Shares[last]
	return o
}

// studioCompare is the question of an invented studio: 4, 5 or 6 in?
func studioCompare() CompareData {
	return CompareData{Title: "Instrument maker: trunk in one size",
		Tools: []string{"resaw bandsaw", "drum sander", "spindle sander", "pin router", "neck bench"},
		Options: []CompareOption{
			compareOption("A as found", "0.00 USD", "trunk 2", 72, 62, 92, 82, 81, 81),
			compareOption("B 4 in", "1023.13 USD", "collector hose", 106, 101, 118, 115, 113, 101),
			compareOption("C 5 in", "2007.10 USD", "trunk 3", 108, 102.4, 103, 147, 137, 99.97),
			compareOption("D 6 in", "2096.77 USD", "trunk 2", 117, 105, 112, 151, 140, 51),
		}}
}

// worksCompare has as many tools and options as a picture is made for, names that
// are too long, a tool that does not run, and a share beyond the axis.
func worksCompare() CompareData {
	d := CompareData{}
	for k := range 12 {
		d.Tools = append(d.Tools, fmt.Sprintf("spindle moulder number %d", k+1))
	}
	for i := range 6 {
		var shares []float64
		for k := range 13 {
			shares = append(shares, float64(60+(37*i+53*k)%90))
		}
		shares[2], shares[i] = -1, 260
		o := compareOption(fmt.Sprintf("%c %s", 'A'+i, []string{"main 1 to 6 in 250 mm", "clamp-together mm"}[i%2]), "14918.80 EUR", "wide-belt sander drop", shares...)
		if i == 2 {
			o.Note = "too fast: wide-belt sander drop"
		}
		d.Options = append(d.Options, o)
	}
	return d
}

// manyCompare has two bands.
func manyCompare() CompareData {
	d := studioCompare()
	d.Options = append(d.Options, d.Options...)
	return d
}

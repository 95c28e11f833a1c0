package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
)

// fittedKeys are the keys of the section.
var fittedKeys = []string{"friction", "roughness", "entry", "leaks", "shut gates", "fan speed", "filter"}

// maxFitted bounds a factor: what is farther off is another thing than the file
// says.
const maxFitted = 20

// fitted reads the section of that name. It is read before the parts it works
// on; duct of the catalogue takes it in as it is made.
func (d *decoder) fitted(n *node) {
	f := d.fields(n, fittedKeys...)
	if f == nil {
		return
	}
	out := &d.file.Fitted
	hoses, rigid := d.kinds()
	var tools, collectors, leaks []string
	for _, l := range d.file.Spec.Leaks {
		leaks = append(leaks, l.ID)
	}
	for _, t := range d.file.Spec.Tools {
		tools = append(tools, t.ID)
	}
	for _, c := range d.file.Spec.Collectors {
		collectors = append(collectors, c.ID)
	}
	out.Friction = d.factors(f.at("friction"), hoses)
	out.Roughness = d.factors(f.at("roughness"), rigid)
	out.Entry = d.factors(f.at("entry"), tools)
	out.Leaks = d.factors(f.at("leaks"), leaks)
	out.FanSpeed = d.factors(f.at("fan speed"), collectors)
	out.Filter = d.factors(f.at("filter"), collectors)
	if v, ok := d.factor(f.at("shut gates")); ok {
		out.ShutGates = max(leastShut, v)
	}
	for _, name := range collectors {
		if network.Factor(out.FanSpeed, name) == 0 {
			d.fault(f.at("fan speed"), "", "the fan of %q would stand still", name)
		}
	}
	if len(d.faults) == 0 {
		d.file.Spec = out.Apply(d.file.Spec)
	}
}

// kinds are the families of hose and of rigid duct that the catalogue knows.
func (d *decoder) kinds() (hoses, rigid []string) {
	for _, name := range d.catalog.Names() {
		if fam, ok := d.catalog.Family(name); ok && fam.Make.Hose() {
			hoses = append(hoses, name)
		} else {
			rigid = append(rigid, name)
		}
	}
	return hoses, rigid
}

// factors reads factors by name.
func (d *decoder) factors(n *node, known []string) map[string]float64 {
	f := d.fields(n, known...)
	if f == nil {
		return nil
	}
	out := map[string]float64{}
	for _, name := range known {
		if v, ok := d.factor(f.at(name)); ok {
			out[name] = v
		}
	}
	return out
}

func (d *decoder) factor(n *node) (float64, bool) {
	v, ok := d.number(n, 0)
	if ok && v > maxFitted {
		d.fault(n, "a factor on what the file says; 1 leaves it as it is", "%s %q: above %d", n.label, n.text, maxFitted)
		return 0, false
	}
	return v, ok
}

// leastShut tells gates that shut tight from a factor that is missing.
const leastShut = 0.001

// FittedWords lists the factors, "friction of hose × 0.969"; none for a shop
// that was not fitted.
func (f *File) FittedWords() []string {
	var out []string
	key := ""
	for _, line := range fittedLines(&f.Fitted) {
		name, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
		switch indent := len(line) - len(strings.TrimLeft(line, " ")); {
		case indent == 2 && value == "":
			key = strings.TrimSuffix(name, ":") + " of "
		case indent == 2:
			out = append(out, "leakage of "+name+" × "+value)
		case indent == 4:
			out = append(out, key+strings.Trim(name, `"`)+" × "+value)
		}
	}
	return out
}

// fittedLines is the section as text.
func fittedLines(t *network.Factors) []string {
	out := []string{"fitted:"}
	add := func(key string, m map[string]float64) {
		if len(m) == 0 {
			return
		}
		names := make([]string, 0, len(m))
		for name := range m {
			names = append(names, name)
		}
		slices.Sort(names)
		out = append(out, "  "+key+":")
		for _, name := range names {
			out = append(out, "    "+quoted(name)+": "+decimal(m[name]))
		}
	}
	add("friction", t.Friction)
	add("roughness", t.Roughness)
	add("entry", t.Entry)
	add("leaks", t.Leaks)
	if t.ShutGates != 0 && t.ShutGates != 1 {
		out = append(out, "  shut gates: "+decimal(t.ShutGates))
	}
	add("fan speed", t.FanSpeed)
	add("filter", t.Filter)
	if len(out) == 1 {
		return nil
	}
	return out
}

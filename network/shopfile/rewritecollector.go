package shopfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wyewright/network"
)

// take puts the collector of an option in the place of the one that the file
// describes under its name.
func (m *meant) take(o *CollectorOption) error {
	i := slices.IndexFunc(m.spec.Collectors, func(c network.Collector) bool { return c.ID == o.Collector })
	if i < 0 {
		return fmt.Errorf("shopfile: option of collector %q: no such collector", o.Collector)
	}
	m.spec.Collectors[i] = o.Becomes
	if o.New {
		m.collector = o.Collector
	}
	if o.Renewed {
		m.fitted.Filter = only(m.fitted.Filter, func(id string) bool { return id != o.Collector })
	}
	return nil
}

// collector writes the option of a collector that was taken.
func (w *rewriter) collector(o *CollectorOption) error {
	if o == nil {
		return nil
	}
	if o.New {
		if holder := w.f.root.child("redesign"); holder != nil && holder.kind == mapping {
			w.setKey(holder, "collector", quoted(o.Collector))
		} else {
			w.s.insertLines(w.key("states").line, "redesign:", "  collector: "+quoted(o.Collector), "")
		}
	}
	n := w.member("collectors", o.Collector)
	if o.Renewed {
		w.renew(n.child("filter"), o)
	}
	if o.Speed == 1 {
		return nil
	}
	w.strikeIn(n, "speeds")
	return w.spin(n, o.Speed)
}

// renew writes the law of the renewed filter in the place of the old one.
func (w *rewriter) renew(n *node, o *CollectorOption) {
	to := n.child("renew")
	add := []string{}
	d := newDecoder("", nil, w.f.catalog)
	for _, from := range []*node{to.child("clean"), n.child("clean"), n.child("loaded"), to.child("loaded")} {
		if v, ok := d.pressureAt(from); ok && near(v, o.Becomes.Filter.Clean) {
			add = append(add, "clean: "+quoted(from.text))
			break
		}
	}
	w.s.remap(n, []string{"clean", "loaded", "renew"}, append(add, "loaded: "+quoted(to.child("loaded").text)))
}

// spin carries the fan of a collector to another speed by the fan laws: where
// its speed is given that, else every point of its curve.
func (w *rewriter) spin(n *node, by float64) error {
	law := map[string]float64{"flow": by, "free air": by, "speed": by, "pressure": by * by, "shutoff": by * by, "power": by * by * by}
	var err error
	scale := func(holder *node, keys ...string) {
		for _, key := range keys {
			if v := holder.child(key); v != nil && v.kind == scalar && err == nil {
				err = w.times(v, law[key])
			}
		}
	}
	fan := n.child("fan")
	switch {
	case fan.child("curve") != nil && fan.child("speed") != nil:
		scale(fan, "speed")
	default:
		scale(fan, "flow")
		scale(fan.child("quadratic"), "shutoff", "free air")
		for _, pt := range itemsOf(fan.child("curve")) {
			scale(pt, "flow", "pressure", "power")
		}
	}
	for _, pt := range itemsOf(n.child("motor").child("points")) {
		scale(pt, "flow", "power")
	}
	return err
}

// times multiplies a quantity where it stands; its unit stays.
func (w *rewriter) times(n *node, by float64) error {
	text := strings.TrimSpace(n.text)
	end, v := len(text), 0.0
	for ; end > 0; end-- {
		if x, err := strconv.ParseFloat(text[:end], 64); err == nil {
			v = x
			break
		}
	}
	if end == 0 {
		return fmt.Errorf("%w: %q cannot be carried to another speed; write it as a number and a unit", ErrRewrite, n.text)
	}
	w.s.cut(w.s.offset(n.line, n.col), w.s.offset(n.endLine, n.endCol), quoted(decimal(v*by)+text[end:]))
	return nil
}

// strikeIn takes a key out of a set.
func (w *rewriter) strikeIn(holder *node, key string) {
	if holder.child(key) == nil {
		return
	}
	if holder.flow {
		w.strikeFlow(holder, membersOf(holder), func(name string, _ *node) bool { return name == key })
		return
	}
	for _, m := range membersOf(holder) {
		if m.name == key {
			w.s.commentOut(m.startLine, m.endLine)
		}
	}
}

package plots

// label sets a text near a mark where the placer finds room, with a leader
// line when it had to move away. It reports false when there was no room;
// nothing is drawn then.
func (p *pen) label(seek *placer, face typeface, at xy, radius float64, text string) bool {
	s, ok := seek.put(at, radius, face.width(text), face.height())
	if !ok {
		return false
	}
	p.setLabel(face, s, text)
	return true
}

// setLabel draws a label that is placed.
func (p *pen) setLabel(face typeface, s spot, text string) {
	if s.lead != nil {
		p.line(leader, s.lead.a, s.lead.b)
	}
	p.text(face, text, xy{s.box.x0, s.box.y0}, 0, 0)
}

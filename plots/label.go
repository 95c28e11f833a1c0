package plots

// label sets a text near a mark where the placer finds room, with a leader
// line when it had to move away. It reports false when there was no room;
// nothing is drawn then.
func (p *pen) label(seek *placer, face typeface, at xy, radius float64, text string) bool {
	s, ok := seek.put(at, radius, face.width(text), face.height())
	if ok {
		p.setLabel(face, s, text)
	}
	return ok
}

// labelLine is label for a text that may stand beside any one of the places
// on a line, the best of them first.
func (p *pen) labelLine(seek *placer, face typeface, places []xy, radius float64, text string) bool {
	s, ok := seek.putAny(places, beside, radius, face.width(text), face.height())
	if ok {
		p.setLabel(face, s, text)
	}
	return ok
}

// setLabel draws a label that is placed, on a ground of its own, so that a
// line that could not be kept free does not run through the letters.
func (p *pen) setLabel(face typeface, s spot, text string) {
	if s.lead != nil {
		p.line(leader, s.lead.a, s.lead.b)
	}
	p.rect(&white, stroke{}, s.box)
	p.text(face, text, xy{s.box.x0, s.box.y0}, 0, 0)
}

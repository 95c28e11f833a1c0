package plots

import (
	"image/color"
	"math"
	"strings"
	"sync"
	"unicode"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
)

// stroke is how a line is drawn; widths and dashes in points.
type stroke struct {
	width float64
	color color.NRGBA
	dash  []float64
}

// typeface is how a text is set; the family is always Liberation Sans.
type typeface struct {
	size  float64
	bold  bool
	color color.NRGBA
}

// Height of the text box as a share of the size: capitals reach 0.73 above
// the base line, tails 0.21 below it (measures of Liberation Sans).
const (
	capShare  = 0.73
	tailShare = 0.21
)

var faces = sync.OnceValue(func() *font.Cache { return font.NewCache(liberation.Collection()) })

// face returns the gonum face of the style.
func (t typeface) face() font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if t.bold {
		f.Weight = xfont.WeightBold
	}
	return faces().Lookup(f, font.Length(t.size))
}

// width returns the length of the text in points. A letter that the font lacks
// counts as a square.
func (t typeface) width(s string) float64 {
	f, s := t.face(), clean(s)
	n := lacking(s)
	if n > 0 {
		s = strings.Map(func(r rune) rune {
			if lacks(r) {
				return -1
			}
			return r
		}, s)
	}
	return f.Width(s).Points() + float64(n)*t.size
}

// height returns the height of the text box in points.
func (t typeface) height() float64 { return (capShare + tailShare) * t.size }

// fit returns the text, cut and closed by "…" when it is wider than w.
func (t typeface) fit(s string, w float64) string {
	s = clean(s)
	if t.width(s) <= w {
		return s
	}
	runes := []rune(s)
	for n := len(runes) - 1; n > 0; n-- {
		if short := strings.TrimRight(string(runes[:n]), " ") + "…"; t.width(short) <= w {
			return short
		}
	}
	return "…"
}

// wrap returns the text in lines that are not wider than w. It breaks between
// words, and within a word that is wider than a line.
func (t typeface) wrap(s string, w float64) []string {
	var lines []string
	line := ""
	flush := func() {
		if line != "" {
			lines = append(lines, line)
		}
	}
	for _, word := range strings.Fields(clean(s)) {
		if line != "" && t.width(line+" "+word) <= w {
			line += " " + word
			continue
		}
		flush()
		line = ""
		for _, r := range word {
			if line != "" && t.width(line+string(r)) > w {
				flush()
				line = ""
			}
			line += string(r)
		}
	}
	flush()
	return lines
}

// clean replaces what a picture file cannot hold: control characters and
// broken UTF-8.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// op is one thing on the page: a filled or stroked path, a circle, or a text.
type op struct {
	path   []xy
	closed bool
	radius float64 // above 0: a circle about path[0]
	fill   *color.NRGBA
	line   stroke
	text   string
	face   typeface
	base   xy   // left end of the base line
	turned bool // read upward
	box    rect
}

// pen records what is drawn, in order.
type pen struct {
	w, h float64
	ops  []op
}

// round keeps a hundredth of a point, so that the last bits of floating
// point never reach a file.
func round(p xy) xy { return xy{math.Round(p.X*100) / 100, math.Round(p.Y*100) / 100} }

func rounded(line []xy) []xy {
	out := make([]xy, len(line))
	for i, p := range line {
		out[i] = round(p)
	}
	return out
}

func (p *pen) line(s stroke, pts ...xy) {
	if len(pts) > 1 {
		p.ops = append(p.ops, op{path: rounded(pts), line: s})
	}
}

// polygon draws a closed path; a nil fill leaves it open to the ground.
func (p *pen) polygon(fill *color.NRGBA, s stroke, pts ...xy) {
	p.ops = append(p.ops, op{path: rounded(pts), closed: true, fill: fill, line: s})
}

func (p *pen) rect(fill *color.NRGBA, s stroke, r rect) {
	p.polygon(fill, s, xy{r.x0, r.y0}, xy{r.x1, r.y0}, xy{r.x1, r.y1}, xy{r.x0, r.y1})
}

func (p *pen) circle(fill *color.NRGBA, s stroke, c xy, radius float64) {
	p.ops = append(p.ops, op{path: []xy{round(c)}, radius: radius, fill: fill, line: s})
}

// text sets a line of text at the anchor. The shares say where on the text
// the anchor lies: 0 left or bottom, 0.5 middle, 1 right or top. The middle
// is that of the capitals. It returns the box of the text.
func (p *pen) text(t typeface, s string, at xy, shareX, shareY float64) rect {
	s = clean(s)
	if s == "" {
		return rect{at.X, at.Y, at.X, at.Y}
	}
	w := t.width(s)
	base := xy{at.X - shareX*w, at.Y}
	switch shareY {
	case 0:
		base.Y += tailShare * t.size
	case 1:
		base.Y -= capShare * t.size
	default:
		base.Y -= shareY * capShare * t.size
	}
	base = round(base)
	box := rect{base.X, base.Y - tailShare*t.size, base.X + w, base.Y + capShare*t.size}
	p.ops = append(p.ops, op{text: s, face: t, base: base, box: box})
	return box
}

// upright sets a text that reads upward; its lower end is at the anchor,
// centred from side to side.
func (p *pen) upright(t typeface, s string, at xy) {
	s = clean(s)
	base := round(xy{at.X + capShare*t.size/2, at.Y})
	box := rect{base.X - capShare*t.size, base.Y, base.X + tailShare*t.size, base.Y + t.width(s)}
	p.ops = append(p.ops, op{text: s, face: t, base: base, box: box, turned: true})
}

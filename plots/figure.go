package plots

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Resolutions in dots per inch.
const (
	defaultDPI = 150
	minDPI     = 30
	maxDPI     = 600
)

// Figure is a finished picture. It does not change and may be shared.
type Figure struct {
	title string
	w, h  float64 // points
	ops   []op
}

// figure closes the recording of a pen.
func (p *pen) figure(title string) *Figure {
	return &Figure{title: clean(title), w: p.w, h: p.h, ops: p.ops}
}

// Title returns the title that is drawn in the picture, for use as the
// alternative text where it is shown.
func (f *Figure) Title() string { return f.title }

// Size returns the width and height in centimetres.
func (f *Figure) Size() (width, height float64) { return f.w / centimetre, f.h / centimetre }

// Formats lists the formats that [Figure.Write] offers.
func Formats() []string { return []string{"svg", "png"} }

// Write writes the picture as "svg", or as "png" at 150 dots per inch.
// Another format is an error that unwraps to [ErrFormat].
func (f *Figure) Write(w io.Writer, format string) error {
	var data []byte
	var err error
	switch format {
	case "svg":
		data, err = f.SVG()
	case "png":
		data, err = f.PNG(defaultDPI)
	default:
		err = fmt.Errorf("plots: %w: %q is not one of %s", ErrFormat, format, strings.Join(Formats(), ", "))
	}
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

// SVG returns the picture as a stand-alone SVG document. The font is named,
// not embedded (embedding costs half a megabyte a picture); Arial and
// Helvetica, whose widths Liberation Sans follows, stand in where it is missing.
func (f *Figure) SVG() ([]byte, error) {
	c := vgsvg.New(vg.Length(f.w), vg.Length(f.h))
	f.draw(c, func(s string) string { return s })
	var raw bytes.Buffer
	if _, err := c.WriteTo(&raw); err != nil {
		return nil, fmt.Errorf("plots: svg: %w", err)
	}
	const family = "font-family:Liberation Sans;font-variant:normal;"
	out := strings.ReplaceAll(raw.String(), family, "font-family:'Liberation Sans',Arial,Helvetica,sans-serif;")
	out = strings.Replace(out, "<svg ", `<svg role="img" `, 1)
	head := strings.Index(out, "<g transform")
	title := "<title>" + html.EscapeString(f.title) + "</title>\n"
	return []byte(out[:head] + title + out[head:]), nil
}

// PNG returns the picture as a PNG image of 30 to 600 dots per inch. Another
// resolution is an error that unwraps to [ErrFormat].
func (f *Figure) PNG(dpi int) ([]byte, error) {
	if dpi < minDPI || dpi > maxDPI {
		return nil, fmt.Errorf("plots: %w: %d dpi is not within %d to %d", ErrFormat, dpi, minDPI, maxDPI)
	}
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(vg.Length(f.w), vg.Length(f.h)), vgimg.UseDPI(dpi))}
	f.draw(c, known)
	var out bytes.Buffer
	if _, err := c.WriteTo(&out); err != nil {
		return nil, fmt.Errorf("plots: png: %w", err)
	}
	return out.Bytes(), nil
}

// draw replays the recording on a canvas of the plot library, with texts as
// spelled for it.
func (f *Figure) draw(c vg.Canvas, spell func(string) string) {
	c.SetColor(white)
	c.Fill(outline(op{path: []xy{{0, 0}, {f.w, 0}, {f.w, f.h}, {0, f.h}}, closed: true}))
	for _, o := range f.ops {
		if o.text != "" {
			c.SetColor(o.face.color)
			o.text = spell(o.text)
			setText(c, o)
			continue
		}
		path := outline(o)
		if o.fill != nil {
			c.SetColor(*o.fill)
			c.Fill(path)
		}
		if o.line.width > 0 {
			c.SetColor(o.line.color)
			c.SetLineWidth(vg.Length(o.line.width))
			dash := make([]vg.Length, len(o.line.dash))
			for i, d := range o.line.dash {
				dash[i] = vg.Length(d)
			}
			c.SetLineDash(dash, 0)
			c.Stroke(path)
		}
	}
}

// setText sets a text level or reading upward.
func setText(c vg.Canvas, o op) {
	if !o.turned {
		c.FillString(o.face.face(), point(o.base), o.text)
		return
	}
	c.Push()
	c.Translate(point(o.base))
	c.Rotate(math.Pi / 2)
	c.FillString(o.face.face(), vg.Point{}, o.text)
	c.Pop()
}

func point(p xy) vg.Point { return vg.Point{X: vg.Length(p.X), Y: vg.Length(p.Y)} }

// outline turns the path of an op into one of the plot library.
func outline(o op) vg.Path {
	var path vg.Path
	if o.radius > 0 {
		start := o.path[0].add(xy{o.radius, 0})
		path.Move(point(start))
		path.Arc(point(o.path[0]), vg.Length(o.radius), 0, 2*math.Pi)
		path.Close()
		return path
	}
	for i, p := range o.path {
		if i == 0 {
			path.Move(point(p))
		} else {
			path.Line(point(p))
		}
	}
	if o.closed {
		path.Close()
	}
	return path
}

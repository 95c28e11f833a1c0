package report

import (
	"encoding/xml"
	"html"
	"html/template"
	"io"
	"strings"
)

// inline takes the svg element out of a picture's document and gives it words
// for those who do not see it. A text that is no well-formed SVG document, and
// one that holds more than a drawing, gives nothing.
func inline(svg []byte, alt string) template.HTML {
	text := string(svg)
	from, to := strings.Index(text, "<svg"), strings.LastIndex(text, "</svg>")
	if from < 0 || to < from || !drawing(text) {
		return ""
	}
	text = text[from : to+len("</svg>")]
	text = strings.Replace(text, ` role="img"`, "", 1)
	text = strings.Replace(text, "<svg", `<svg role="img" aria-label="`+html.EscapeString(alt)+`"`, 1)
	return template.HTML(text) // #nosec: drawn by package plots, its texts escaped there, and looked through
}

// drawing reports whether a document holds only what draws: no script, no
// link, nothing from outside, no identifier that could clash with another's.
func drawing(text string) bool {
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return true
		}
		if err != nil {
			return false
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "svg", "g", "path", "text", "tspan", "title", "rect", "circle", "line", "polyline", "polygon", "ellipse", "defs", "desc":
		default:
			return false
		}
		for _, a := range e.Attr {
			if n := strings.ToLower(a.Name.Local); n == "id" || n == "href" || strings.HasPrefix(n, "on") || strings.Contains(strings.ToLower(a.Value), "url(") {
				return false
			}
		}
	}
}

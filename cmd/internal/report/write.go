package report

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"
)

// files are the templates of the page, its look and its script.
//
//go:embed page
var files embed.FS

// Write writes the page. Every text is escaped; a picture that is no SVG
// document is left out. It fails only where writing fails.
func Write(w io.Writer, p *Page) error {
	style, err := joined("page/screen.css", "page/parts.css", "page/phone.css", "page/print.css")
	if err != nil {
		return err
	}
	script, err := joined("page/slider.js")
	if err != nil {
		return err
	}
	t, err := template.New("page").Funcs(template.FuncMap{
		"cells":  func(t Table, r Row) []cell { return t.cells(r) },
		"policy": func() string { return policy(style, script) },
		"style":  func() template.HTML { return template.HTML("<style>" + style + "</style>") },    // #nosec: our own file
		"script": func() template.HTML { return template.HTML("<script>" + script + "</script>") }, // #nosec: our own file
	}).ParseFS(files, "page/*.html")
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	if err := t.ExecuteTemplate(w, "page.html", p); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return nil
}

// joined reads files of the page one after the other.
func joined(names ...string) (string, error) {
	var b strings.Builder
	b.WriteByte('\n')
	for _, n := range names {
		text, err := files.ReadFile(n)
		if err != nil {
			return "", fmt.Errorf("report: %w", err)
		}
		b.Write(text)
	}
	return b.String(), nil
}

// policy is what the page may load and run: nothing from outside, its own
// style and script by their hashes, and the looks that pictures state element
// by element (Content Security Policy Level 3, W3C).
func policy(style, script string) string {
	return fmt.Sprintf("default-src 'none'; img-src data:; style-src 'unsafe-inline'; style-src-elem %s; style-src-attr 'unsafe-inline'; script-src %s; base-uri 'none'; form-action 'none'",
		source(style), source(script))
}

// source names a text by its hash.
func source(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

package ui

import (
	"encoding/json"
	"fmt"
	"io"
	"time"
)

// Report is a word from a long search.
type Report struct {
	Best, Bound string // money as text, "" where there is none
	Gap         float64
	Nodes       int
}

// Progress shows how a search goes: on a terminal one line that is written
// over, else a line for each new best plan, or JSON lines. It keeps silent for
// the first second.
type Progress struct {
	Out      io.Writer
	Terminal bool
	JSON     bool
	Now      func() time.Time

	start, last time.Time
	best        string
	shown       bool
}

// quiet is the time before the first word; pace that between two.
const (
	quiet = time.Second
	pace  = 200 * time.Millisecond
)

// Show prints a word if it is time for one.
func (p *Progress) Show(w Report) {
	now := p.Now()
	if p.start.IsZero() {
		p.start = now
	}
	fresh := w.Best != p.best
	if now.Sub(p.start) < quiet || now.Sub(p.last) < pace && !fresh || !p.Terminal && !fresh {
		return
	}
	p.last, p.best, p.shown = now, w.Best, true
	elapsed := now.Sub(p.start).Seconds()
	switch {
	case p.JSON:
		p.line(map[string]any{"elapsed_s": elapsed, "best": w.Best, "bound": w.Bound, "gap_ratio": w.Gap, "nodes": w.Nodes})
	default:
		best := "no plan yet"
		if w.Best != "" {
			best = fmt.Sprintf("best %s, bound %s, gap %.1f %%", w.Best, w.Bound, 100*w.Gap)
		}
		line := fmt.Sprintf("%.0f s: %s, %d nodes", elapsed, best, w.Nodes)
		if p.Terminal {
			fmt.Fprintf(p.Out, "\r\x1b[K%s", line)
		} else {
			fmt.Fprintln(p.Out, line)
		}
	}
}

// Say prints a line in between, after the first second.
func (p *Progress) Say(text string) {
	now := p.Now()
	if p.start.IsZero() {
		p.start = now
	}
	if now.Sub(p.start) < quiet {
		return
	}
	elapsed := now.Sub(p.start).Seconds()
	switch {
	case p.JSON:
		p.line(map[string]any{"elapsed_s": elapsed, "note": text})
	case p.Terminal:
		fmt.Fprintf(p.Out, "\r\x1b[K%.0f s: %s", elapsed, text)
		p.shown = true
	default:
		fmt.Fprintf(p.Out, "%.0f s: %s\n", elapsed, text)
	}
}

// line prints a word for programs.
func (p *Progress) line(v map[string]any) {
	if b, err := json.Marshal(v); err == nil {
		fmt.Fprintf(p.Out, "%s\n", b)
	}
}

// Done ends the line on a terminal.
func (p *Progress) Done() {
	if p.shown && p.Terminal && !p.JSON {
		fmt.Fprintln(p.Out)
		p.shown = false
	}
}

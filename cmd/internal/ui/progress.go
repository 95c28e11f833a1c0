package ui

import (
	"encoding/json"
	"fmt"
	"io"
	"time"
)

// Report is a word from a long search.
type Report struct {
	Best, Bound string // money as text, "" where there is none yet
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
	p.last, p.best = now, w.Best
	elapsed := now.Sub(p.start).Seconds()
	if p.JSON {
		p.line(map[string]any{"elapsed_s": elapsed, "best": w.Best, "bound": w.Bound, "gap_ratio": w.Gap, "nodes": w.Nodes})
		return
	}
	p.text(elapsed, fmt.Sprintf("%s, %d nodes", w.words(), w.Nodes))
}

// words say how far a search is.
func (w *Report) words() string {
	switch {
	case w.Best == "":
		return "no plan yet"
	case w.Bound == "":
		return fmt.Sprintf("best %s, no bound yet", w.Best)
	}
	return fmt.Sprintf("best %s, bound %s, gap %.1f %%", w.Best, w.Bound, 100*w.Gap)
}

// text prints a word for people: over the line before on a terminal.
func (p *Progress) text(elapsed float64, words string) {
	p.shown = true
	if p.Terminal {
		fmt.Fprintf(p.Out, "\r\x1b[K%.0f s: %s", elapsed, words)
	} else {
		fmt.Fprintf(p.Out, "%.0f s: %s\n", elapsed, words)
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
	if p.JSON {
		p.line(map[string]any{"elapsed_s": elapsed, "note": text})
		return
	}
	p.text(elapsed, text)
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

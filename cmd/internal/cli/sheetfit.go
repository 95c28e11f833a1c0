package cli

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// Measures of the printed page in millimetres, for the height that a form
// needs on the shorter and on the narrower of A4 and Letter. They were read off
// prints and rounded up, so that a form that is held to fit does.
const (
	pageRoom   = 257.0 // Letter, 279 high, less margins and a rest
	headRoom   = 35.0  // title, blanks, headings
	lineRoom   = 3.3   // a line of text
	holeRoom   = 1.3   // about the text of a hole
	readRoom   = 2.4   // about the text of a reading: room to write
	blockRoom  = 3.0   // about the heading of a state
	proseRunes = 132   // in a line of running text
	markRunes  = 63    // in a line under a reading
)

// height is about what the form takes on paper.
func (f *sheetForm) height() float64 {
	out := headRoom + lineRoom*float64(linesOf(strings.Join(f.Cautions, " "), proseRunes))
	for _, s := range slices.Concat(f.Notes, f.Short()) {
		out += lineRoom * float64(linesOf(s, proseRunes))
	}
	for _, h := range f.Holes {
		out += holeRoom + lineRoom*float64(max(linesOf(h.Place, 19), linesOf(h.Drill, 28), linesOf(joined(" ", h.Straight, h.Mark), 30)))
	}
	var blocks []float64
	for _, b := range f.Blocks {
		high := blockRoom + lineRoom*float64(1+linesOf(joined(" ", b.Set, b.Mind), 58))
		for _, r := range b.Rows {
			high += readRoom + lineRoom*float64(max(linesOf(r.Name(), 19), linesOf(r.Expected, 28))+linesOf(r.Mark, markRunes))
		}
		blocks = append(blocks, high)
	}
	return out + columns(blocks)
}

// columns is the height of blocks in two columns that break between blocks only.
func columns(blocks []float64) float64 {
	left, right := 0.0, 0.0
	for _, b := range blocks {
		right += b
	}
	least := right
	for _, b := range blocks {
		left, right = left+b, right-b
		least = min(least, max(left, right))
	}
	return least
}

// linesOf is about how many lines a text takes that breaks after so many runes.
func linesOf(s string, runes int) int {
	return int(math.Ceil(float64(utf8.RuneCountInString(s)) / float64(runes)))
}

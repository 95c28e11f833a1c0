package plots

import (
	"strings"

	"golang.org/x/image/font/sfnt"
)

// standIn is drawn in a PNG picture for a letter that Liberation Sans lacks. An
// SVG picture keeps the letter: whoever shows it may have a font for it.
const standIn = '□'

// lacks reports whether Liberation Sans has no glyph for a rune, such as those
// of Chinese and Japanese.
func lacks(r rune) bool {
	if r < 0x250 { // Latin, the common case
		return false
	}
	var buf sfnt.Buffer
	index, err := smallText.face().Face.GlyphIndex(&buf, r)
	return err != nil || index == 0
}

// known puts the stand-in for every letter that is lacking.
func known(s string) string {
	return strings.Map(func(r rune) rune {
		if lacks(r) {
			return standIn
		}
		return r
	}, s)
}

// lacking counts the letters that are lacking.
func lacking(s string) int {
	n := 0
	for _, r := range s {
		if lacks(r) {
			n++
		}
	}
	return n
}

package plots

import "image/color"

// The palette. Each colour has its own darkness, so that the order survives
// a grey print; TestPaletteInGrey holds the steps. [our choice]
var (
	ink   = color.NRGBA{R: 0x14, G: 0x14, B: 0x14, A: 0xff} // text, axes
	navy  = color.NRGBA{R: 0x12, G: 0x36, B: 0x66, A: 0xff} // after, chosen, changed
	rust  = color.NRGBA{R: 0xb8, G: 0x4a, B: 0x16, A: 0xff} // short, slow, limit
	slate = color.NRGBA{R: 0x7d, G: 0x84, B: 0x8a, A: 0xff} // before, kept, helpers
	sand  = color.NRGBA{R: 0xe6, G: 0xb9, B: 0x5c, A: 0xff} // too fast, filters
	mist  = color.NRGBA{R: 0xde, G: 0xe1, B: 0xe4, A: 0xff} // grid, bands
	white = color.NRGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff} // ground
)

// quiet is the darker grey of secondary text; slate is too light for letters.
var quiet = color.NRGBA{R: 0x5c, G: 0x62, B: 0x68, A: 0xff}

// Page measures in points (1/72 inch).
const (
	centimetre = 72 / 2.54
	pageWidth  = 17 * centimetre // A4 less two margins of 2 cm
	pageHeight = 11 * centimetre
	edge       = 8.0 // nothing is drawn nearer to the rim of the page
)

// Text sizes in points.
const (
	sizeTitle = 11.0
	sizeBody  = 8.5
	sizeSmall = 7.5 // the least: 7 pt where a picture is set 160 mm wide
)

// Line styles.
var (
	hairline = stroke{width: 0.5, color: slate}
	gridLine = stroke{width: 0.5, color: mist}
	axisLine = stroke{width: 0.8, color: ink}
	leader   = stroke{width: 0.5, color: quiet}
	mainLine = stroke{width: 1.8, color: navy}
	oldLine  = stroke{width: 1.4, color: quiet, dash: []float64{1.2, 2.4}}
	nextLine = stroke{width: 2.2, color: navy, dash: []float64{1.2, 3.6}}
	wayLine  = stroke{width: 0.8, color: quiet, dash: []float64{3.5, 2.5}}
	limitRow = stroke{width: 1.2, color: rust, dash: []float64{5, 2.5}}
)

// Text styles.
var (
	titleText = typeface{size: sizeTitle, bold: true, color: ink}
	boldText  = typeface{size: sizeBody, bold: true, color: ink}
	smallText = typeface{size: sizeSmall, color: ink}
	smallBold = typeface{size: sizeSmall, bold: true, color: ink}
	quietText = typeface{size: sizeSmall, color: quiet}
)

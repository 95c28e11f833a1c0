package sheet

import (
	"strings"

	"github.com/xuri/excelize/v2"
)

// look is how a cell is shown.
type look uint8

// Looks. Those of sums and headers follow those of cells in the same order.
const (
	wordLook   look = iota // text, wrapped
	codeLook               // a number that is a name
	countLook              // a whole number
	tenthLook              // with one decimal
	amountLook             // a length or a time
	moneyLook              // with the currency's decimals
	priceLook              // of one unit: more decimals where it has them
	shareLook              // per cent
	looks
)

// Looks besides those of cells.
const (
	titleLook look = 100 + iota
	hintLook
	statusLook
)

const (
	sums  = looks     // a look + sums is that of the row of sums
	heads = 2 * looks // a look + heads is that of the header
)

func (l look) sum() look  { return l + sums }
func (l look) head() look { return l + heads }

// The colours, those of the pictures; each has its own darkness, and what may
// be changed has a frame besides its tint.
const (
	inkColour  = "141414"
	navyColour = "123666"
	tintColour = "FBF1DC"
	mistColour = "DEE1E4"
	greyColour = "5C6268"
	font       = "Arial"
	textSize   = 10
)

// room ends a number format: it keeps the digits off the edge of the cell, as
// an indent would, which some programs forget for numbers.
const room = "_)"

// format is the number format of a look.
func (l look) format(digits int) string {
	decimals := ""
	if digits > 0 {
		decimals = "." + strings.Repeat("0", digits)
	}
	switch l % looks {
	case codeLook:
		return "0" + room
	case countLook:
		return "#,##0" + room + ";-#,##0" + room + `;"–"` + room
	case tenthLook:
		return "#,##0.0" + room
	case amountLook:
		return "#,##0.00" + room
	case moneyLook:
		return "#,##0" + decimals + room
	case priceLook:
		return "#,##0." + strings.Repeat("0", max(digits, 2)) + "##" + room
	case shareLook:
		return "0.0%" + room
	}
	return "General"
}

// style is the style of a look.
func (l look) style(digits int, input bool) *excelize.Style {
	s := &excelize.Style{Font: &excelize.Font{Family: font, Size: textSize, Color: inkColour}, Alignment: &excelize.Alignment{Horizontal: "left", Vertical: "center", WrapText: true, Indent: 1}}
	switch l {
	case titleLook:
		s.Font.Bold, s.Font.Size, s.Font.Color, s.Alignment.WrapText, s.Alignment.Indent = true, 14, navyColour, false, 0
		return s
	case statusLook:
		s.Alignment.Indent = 0
		return s
	case hintLook:
		s.Font.Color, s.Alignment.WrapText, s.Alignment.Indent = greyColour, false, 0
		return s
	}
	if l%looks != wordLook {
		s.Alignment.Horizontal, s.Alignment.WrapText, s.Alignment.Indent = "right", l >= heads, 0
	}
	format := l.format(digits)
	switch {
	case l >= heads:
		s.Font.Bold, s.Font.Color = true, "FFFFFF"
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{navyColour}}
		return s
	case l >= sums:
		s.Font.Bold = true
		s.Border = []excelize.Border{{Type: "top", Color: inkColour, Style: 1}, {Type: "bottom", Color: inkColour, Style: 6}}
	case input:
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{tintColour}}
		for _, side := range []string{"left", "right", "top", "bottom"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: greyColour, Style: 1})
		}
	default:
		s.Border = []excelize.Border{{Type: "bottom", Color: mistColour, Style: 1}}
	}
	s.CustomNumFmt = &format
	return s
}

// Package plots draws every picture of the redesign: the trade-off of cost
// and air, fan and system curves, flow and velocity before and after, the
// shop in plan and in isometric view, the pressure along a path, by run or by
// fitting, the suction along the way, readings against a fitted model, how the
// fitted parameters hang together, the plan with the faults that were found, and
// options side by side.
//
// Each picture is a plain data struct and one function that checks the data
// and lays the picture out. The caller gives numbers already in the unit that
// shall be printed, and the text of that unit; nothing is converted here and
// nothing is computed from physics. The result is a [Figure], which is
// immutable, safe to share, and written as SVG or PNG:
//
//	fig, err := plots.TradeOff(data)
//	svg, err := fig.SVG()
//	png, err := fig.PNG(150)
//
// # How our pictures look
//
// White ground, Liberation Sans, title top left, key beneath it, and in the key
// only what the picture has. Colours differ in darkness, so that a grey print
// still reads: navy is after, chosen or changed; slate is before or kept; rust is
// short, slow or a limit; sand is too fast, or a filter. A shape, a dash or a word
// repeats whatever a colour says: ring before and disc after, square where short,
// arrow and word where slow, dashes for hose. Bars start at zero; an axis that does
// not has a break, two slanted strokes, beside its foot. A picture has one scale
// per direction and every scale names its unit; a plan has a scale bar and its
// directions. Lines of duct are as wide as the duct, in proportion; where two
// cross without meeting, the farther one has a gap. What changed is dark and says
// the old and the new size, what stays is grey and says its size where there is
// room. No label is dropped in silence: sizes shrink to letters with a key first,
// and the foot names what still found no room, or has no coordinates.
//
// The width is 17 cm, an A4 page less two margins of 2 cm; no text is smaller than
// 7.5 points, 7 where a picture is set 16 cm wide. Long tables get lower rows or go
// into a second table, never smaller text. An SVG picture has a viewBox, a title
// and the role of an image, so that it scales in a page and can be read out.
//
// The same data give the same bytes. Data that are empty, not finite or
// contradictory are a [DataError], which unwraps to [ErrEmpty] or [ErrValue].
package plots

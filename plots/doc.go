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
// One visual language serves all pictures: white ground, Liberation Sans, a
// palette whose colours differ in darkness so that a grey print still reads,
// and shapes, dashes and words that repeat what a colour says. A picture has
// one scale per direction and every scale names its unit. The default width
// of 17 cm is an A4 page less two margins of 2 cm.
//
// The same data give the same bytes. Data that are empty, not finite or
// contradictory are a [DataError], which unwraps to [ErrEmpty] or [ErrValue].
package plots

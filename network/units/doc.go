// Package units holds the physical quantities of the program as typed
// float64 values in SI units, and turns text into them and back.
//
// Inside the program every quantity is in SI. Text with a unit exists only
// at the edges: files, flags, tables and reports. Every quantity has
//
//   - a type (Length, Flow, Pressure, ...), whose documentation names its unit;
//   - a parser (ParseLength, ...), which insists on a unit and returns a
//     *ParseError that names the quantity and lists the units it accepts;
//   - Text, which gives a rounded text for people, in US or SI units;
//   - In and Unit, which give the same number and unit apart, so that a table
//     can put the unit into its header once;
//   - Exact, which gives a text that the parser reads back to the same float64.
//
// A known hole of typed quantities remains: Length*Length is still a Length
// for the compiler. Formulas therefore convert to bare float64 at the top and
// give the result its type on return.
//
// # Conversion factors
//
// Only exact factors are used, and each is held as a quotient of two numbers
// that float64 holds exactly (but for the horsepower), so that "5 in" and
// "127 mm" give the same value to the last bit. The definitions are those of
// NIST Special Publication 811 (2008), appendix B: the foot of 0.3048 m, the
// avoirdupois pound of 0.45359237 kg, standard gravity 9.80665 m/s². Inches and
// millimetres of water are the conventional units (water of 1000 kg/m³ under
// standard gravity, with the inch of water rounded to 249.08891 Pa); water at
// room temperature is about 0.2 % lighter, which a manometer reader may note.
package units

package lsq_test

import (
	"math"

	"gonum.org/v1/gonum/num/dual"
)

// The models of the reference problems in dual numbers: the ordinary part is
// the value, the other the exact slope by the parameter that is seeded.

type number = dual.Number

// formula is a model at parameters b and predictors x.
type formula func(b []number, x []float64) number

var formulas = map[string]formula{
	"Bennett5": func(b []number, x []float64) number {
		return mul(b[0], dual.Pow(add(b[1], num(x[0])), dual.Scale(-1, dual.Inv(b[2]))))
	},
	"BoxBOD":   saturation,
	"Chwirut2": func(b []number, x []float64) number { return div(fade(b[0], x[0]), poly(x[0], b[1:]...)) },
	"DanWood":  func(b []number, x []float64) number { return mul(b[0], dual.Pow(num(x[0]), b[1])) },
	"ENSO": func(b []number, x []float64) number {
		year, long, short := wave(num(12), x[0], b[1], b[2]), wave(b[3], x[0], b[4], b[5]), wave(b[6], x[0], b[7], b[8])
		return add(b[0], year, long, short)
	},
	"Eckerle4": func(b []number, x []float64) number {
		z := div(sub(num(x[0]), b[2]), b[1])
		return mul(div(b[0], b[1]), dual.Exp(dual.Scale(-0.5, mul(z, z))))
	},
	"Gauss1": func(b []number, x []float64) number {
		return add(mul(b[0], fade(b[1], x[0])), bell(b[2:5], x[0]), bell(b[5:8], x[0]))
	},
	"Hahn1":  cubics,
	"Kirby2": func(b []number, x []float64) number { return div(poly(x[0], b[:3]...), poly(x[0], num(1), b[3], b[4])) },
	"Lanczos3": func(b []number, x []float64) number {
		return add(mul(b[0], fade(b[1], x[0])), mul(b[2], fade(b[3], x[0])), mul(b[4], fade(b[5], x[0])))
	},
	"MGH09": func(b []number, x []float64) number {
		return mul(b[0], div(poly(x[0], num(0), b[1], num(1)), poly(x[0], b[3], b[2], num(1))))
	},
	"MGH10": func(b []number, x []float64) number { return mul(b[0], dual.Exp(div(b[1], add(num(x[0]), b[2])))) },
	"MGH17": func(b []number, x []float64) number {
		return add(b[0], mul(b[1], fade(b[3], x[0])), mul(b[2], fade(b[4], x[0])))
	},
	"Misra1a": saturation,
	"Nelson": func(b []number, x []float64) number {
		return sub(b[0], mul(dual.Scale(x[0], b[1]), fade(b[2], x[1])))
	},
	"Rat42": func(b []number, x []float64) number { return div(b[0], logistic(b, x[0])) },
	"Rat43": func(b []number, x []float64) number {
		return div(b[0], dual.Pow(logistic(b, x[0]), dual.Inv(b[3])))
	},
	"Roszman1": func(b []number, x []float64) number {
		angle := dual.Atan(div(b[2], sub(num(x[0]), b[3])))
		return sub(sub(b[0], dual.Scale(x[0], b[1])), dual.Scale(1/math.Pi, angle))
	},
	"Thurber": cubics,
}

func saturation(b []number, x []float64) number { return mul(b[0], sub(num(1), fade(b[1], x[0]))) }

// cubics is a quotient of cubics with 1 as the constant below.
func cubics(b []number, x []float64) number {
	return div(poly(x[0], b[:4]...), poly(x[0], num(1), b[4], b[5], b[6]))
}

// fade is exp(−b·x).
func fade(b number, x float64) number { return dual.Exp(dual.Scale(-x, b)) }

// bell is b0·exp(−((x−b1)/b2)²).
func bell(b []number, x float64) number {
	z := div(sub(num(x), b[1]), b[2])
	return mul(b[0], dual.Exp(dual.Scale(-1, mul(z, z))))
}

// wave is c·cos(2πx/period) + s·sin(2πx/period).
func wave(period number, x float64, c, s number) number {
	a := div(num(2*math.Pi*x), period)
	return add(mul(c, dual.Cos(a)), mul(s, dual.Sin(a)))
}

// logistic is 1 + exp(b1 − b2·x).
func logistic(b []number, x float64) number {
	return add(num(1), dual.Exp(sub(b[1], dual.Scale(x, b[2]))))
}

// poly is c0 + c1·x + c2·x² …
func poly(x float64, c ...number) number {
	sum := c[len(c)-1]
	for i := len(c) - 2; i >= 0; i-- {
		sum = add(c[i], dual.Scale(x, sum))
	}
	return sum
}

func num(v float64) number   { return number{Real: v} }
func mul(a, b number) number { return dual.Mul(a, b) }
func sub(a, b number) number { return dual.Sub(a, b) }
func div(a, b number) number { return mul(a, dual.Inv(b)) }
func add(terms ...number) (sum number) {
	for _, t := range terms {
		sum = dual.Add(sum, t)
	}
	return sum
}

package plots

import (
	"math"
	"strconv"
)

// scale maps the values lo to hi onto the page from p0 to p1.
type scale struct{ lo, hi, p0, p1 float64 }

func (s scale) at(v float64) float64 {
	return s.p0 + (v-s.lo)/(s.hi-s.lo)*(s.p1-s.p0)
}

// niceStep returns the least step of 1, 2 or 5 times a power of ten that
// cuts the span into at most n parts.
func niceStep(span float64, n int) float64 {
	raw := span / float64(n)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= raw*(1-1e-9) {
			return f * power
		}
	}
	return 10 * power
}

// ticks returns the multiples of the step within lo to hi.
func ticks(lo, hi, step float64) []float64 {
	var out []float64
	for i := math.Ceil(lo/step - 1e-9); i*step <= hi+1e-9*step; i++ {
		out = append(out, i*step)
	}
	return out
}

// span widens a range that has no width, and rounds it outward to the step
// that n parts need.
func span(lo, hi float64, n int) (a, b, step float64) {
	if hi-lo < 1e-9*math.Max(1, math.Abs(hi)) {
		half := math.Max(0.05*math.Abs(hi), 0.5)
		lo, hi = lo-half, hi+half
	}
	step = niceStep(hi-lo, n)
	return math.Floor(lo/step+1e-9) * step, math.Ceil(hi/step-1e-9) * step, step
}

// number prints a value with the decimals that the step needs.
func number(v, step float64) string {
	decimals := 0
	if step > 0 && step < 1 {
		decimals = int(math.Ceil(-math.Log10(step) - 1e-9))
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil && f == 0 {
		s = strconv.FormatFloat(0, 'f', decimals, 64) // no "-0"
	}
	return group(s)
}

// brief prints a value with about three significant digits and no more than
// two decimals.
func brief(v float64) string { return number(v, grain(v)) }

// grain returns the step to which values of this size are printed. Numbers
// that stand beneath each other share the grain of the largest.
func grain(v float64) float64 {
	switch a := math.Abs(v); {
	case a >= 100:
		return 1
	case a >= 10:
		return 0.1
	}
	return 0.01
}

// largest returns the greatest distance of the values from zero.
func largest(values []float64) float64 {
	most := 0.0
	for _, v := range values {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

// group sets a space between thousands from five digits on.
func group(s string) string {
	whole, rest := s, ""
	for i, r := range s {
		if r == '.' {
			whole, rest = s[:i], s[i:]
			break
		}
	}
	sign := ""
	if whole != "" && whole[0] == '-' {
		sign, whole = "−", whole[1:]
	}
	if len(whole) > 4 {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + " " + whole[i:]
		}
	}
	return sign + whole + rest
}

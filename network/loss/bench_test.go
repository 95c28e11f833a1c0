package loss

import "testing"

var sink float64

func BenchmarkFriction(b *testing.B) {
	re := 1e5
	for b.Loop() {
		f, d := Friction(re, 6e-4)
		sink = f + d
		re += 1
	}
}

func BenchmarkWyeBranch(b *testing.B) {
	w := NewWye(0.8, 1, 1, 45)
	q := 0.0
	for b.Loop() {
		k, d := w.Branch(q)
		sink = k + d
		q += 1e-9
	}
}

func BenchmarkWyeThrough(b *testing.B) {
	w := NewWye(0.8, 1, 1, 45)
	q := 0.0
	for b.Loop() {
		k, d := w.Through(q)
		sink = k + d
		q += 1e-9
	}
}

func BenchmarkSurfaceLeak(b *testing.B) {
	p := 1000.0
	for b.Loop() {
		k, d := SurfaceLeak(6.75e-5, p)
		sink = k + d
		p += 1e-9
	}
}

package shopfile

import (
	"strings"
	"testing"

	"wyewright/network/collapse"
)

// strengthShop is a demo shop with lines put under defaults.
func strengthShop(t *testing.T, lines string) *File {
	t.Helper()
	src := strings.Replace(string(readFile(t, "../../testdata/shops/school.yaml")), "defaults:\n", "defaults:\n"+lines, 1)
	f, err := Decode("school.yaml", []byte(src), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestStrength(t *testing.T) {
	f := strengthShop(t, "  wall: {dust spiral: 26 ga}\n  collapse: {hose: 15 kPa}\n")
	main := f.Spec.Runs[0].Pieces[0]
	if got, want := f.Stands(main), collapse.Estimate(collapse.Steel, 0.0217*0.0254, main.Diameter); got != want {
		t.Errorf("the main stands %v, want %v", got, want)
	}
	p, err := f.Piece("hose", "100 mm", 1)
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Stands(p); got != (collapse.Limit{Suction: 15000, Basis: collapse.Stated}) {
		t.Errorf("the hose stands %v", got)
	}
	// A stated limit goes before a wall.
	f = strengthShop(t, "  wall: {dust spiral: 0.5 mm}\n  collapse: {dust spiral: 2500 Pa}\n")
	if got := f.Stands(f.Spec.Runs[0].Pieces[0]); got != (collapse.Limit{Suction: 2500, Basis: collapse.Stated}) {
		t.Errorf("stated and estimated: %v", got)
	}
	f = strengthShop(t, "")
	if got := f.Stands(f.Spec.Runs[0].Pieces[0]); got.Known() {
		t.Errorf("nothing said: %v", got)
	}
}

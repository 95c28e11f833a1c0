package plots

import (
	"errors"
	"math"
	"testing"
)

// TestCompareWords: what misses never reads 100, and is marked by shape and word
// (hand-worked).
func TestCompareWords(t *testing.T) {
	for _, c := range []struct {
		share CompareShare
		want  string
		meets bool
	}{
		{CompareShare{Percent: 99.97}, "99.9", false}, {CompareShare{Percent: 100 - 1e-7}, "100", true}, {CompareShare{Percent: 83.6}, "84", false},
		{CompareShare{None: true}, "–", true}, {CompareShare{Percent: 98.7}, "99", false},
	} {
		if got := c.share.text(); got != c.want || c.share.meets() != c.meets {
			t.Errorf("%+v: %q, meets %v; want %q, %v", c.share, got, c.share.meets(), c.want, c.meets)
		}
	}
	fig, err := CompareChart(studioCompare())
	if err != nil {
		t.Fatal(err)
	}
	if fig.count("3 of 5 states") != 3 || fig.count("meets everything") != 1 || fig.count("99.9") != 1 || fig.count("51") != 1 || fig.count("collector hose") != 1 {
		t.Error("a verdict, a share or a run is missing")
	}
}

// TestCompareBands: more than six options go into bands of their own, and each
// tool is named in every band.
func TestCompareBands(t *testing.T) {
	one, err := CompareChart(studioCompare())
	if err != nil {
		t.Fatal(err)
	}
	two, err := CompareChart(manyCompare())
	if err != nil {
		t.Fatal(err)
	}
	if one.count("drum sander") != 1 || two.count("drum sander") != 2 || two.h < 1.5*one.h {
		t.Errorf("%d and %d bands, heights %.0f and %.0f", one.count("drum sander"), two.count("drum sander"), one.h, two.h)
	}
	apart(t, "two bands", two)
	d := studioCompare()
	d.Options[3].Note = "too fast: drum hose"
	noted, err := CompareChart(d)
	if err != nil || noted.count("too fast: drum hose") != 1 || noted.h <= one.h {
		t.Errorf("the note is missing, or has no room: %v", err)
	}
	apart(t, "with a note", noted)
}

// TestCompareFaults: every fault of the data is reported.
func TestCompareFaults(t *testing.T) {
	_, err := CompareChart(CompareData{})
	if !errors.Is(err, ErrEmpty) {
		t.Errorf("nothing to draw: %v", err)
	}
	d := studioCompare()
	d.Options[1].Shares = d.Options[1].Shares[1:]
	d.Options[2].Slowest.Percent = math.NaN()
	var fault *DataError
	if _, err = CompareChart(d); !errors.As(err, &fault) || !errors.Is(err, ErrValue) {
		t.Fatalf("bad values: %v", err)
	}
	if list := err.(interface{ Unwrap() []error }).Unwrap(); len(list) != 2 {
		t.Errorf("%d faults, want 2: %v", len(list), err)
	}
}

package ui

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

// watch runs a progress with a clock of its own: words at the given times.
func watch(terminal, asJSON bool, words map[int]Report, until int) string {
	var b strings.Builder
	now := time.Unix(0, 0)
	p := &Progress{Out: &b, Terminal: terminal, JSON: asJSON, Now: func() time.Time { return now }}
	for ms := 0; ms <= until; ms += 50 {
		now = time.Unix(0, int64(ms)*int64(time.Millisecond))
		if w, ok := words[ms]; ok {
			p.Show(w)
		}
	}
	p.Done()
	return b.String()
}

// TestProgressLines: no word in the first second, then a line for each new
// best plan and none in between. Hand-worked.
func TestProgressLines(t *testing.T) {
	got := watch(false, false, map[int]Report{
		0:    {Best: "90 EUR"},
		900:  {Best: "80 EUR"},
		1000: {Best: "70 EUR", Bound: "35 EUR", Gap: 0.5, Nodes: 7},
		1500: {Best: "70 EUR", Bound: "40 EUR", Gap: 0.43, Nodes: 9},
		1700: {Best: "65 EUR", Nodes: 10},
		2000: {Best: "60 EUR", Bound: "60 EUR", Nodes: 12},
	}, 2500)
	want := "1 s: best 70 EUR, bound 35 EUR, gap 50.0 %, 7 nodes\n2 s: best 65 EUR, no bound yet, 10 nodes\n2 s: best 60 EUR, bound 60 EUR, gap 0.0 %, 12 nodes\n"
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestProgressTerminal writes over one line at a steady pace and ends it.
func TestProgressTerminal(t *testing.T) {
	words := map[int]Report{}
	for ms := 0; ms <= 2000; ms += 50 {
		words[ms] = Report{Bound: "0 EUR", Nodes: ms}
	}
	got := watch(true, false, words, 2000)
	if n := strings.Count(got, "\r"); n != 6 || !strings.HasSuffix(got, "no plan yet, 2000 nodes\n") {
		t.Errorf("%d words, %q", n, got)
	}
}

// TestProgressJSON gives one object a line, with stable names.
func TestProgressJSON(t *testing.T) {
	got := watch(false, true, map[int]Report{0: {}, 1200: {Best: "70 EUR", Bound: "35 EUR", Gap: 0.5, Nodes: 7}}, 1500)
	var v struct {
		Elapsed     float64 `json:"elapsed_s"`
		Best, Bound string
		Gap         float64 `json:"gap_ratio"`
		Nodes       int
	}
	if err := json.Unmarshal([]byte(got), &v); err != nil || v.Elapsed != 1.2 || v.Best != "70 EUR" || v.Gap != 0.5 || v.Nodes != 7 {
		t.Errorf("%q: %+v, %v", got, v, err)
	}
}

// TestSay keeps silent for the first second too, and speaks JSON where asked.
func TestSay(t *testing.T) {
	now := time.Unix(0, 0)
	for _, asJSON := range []bool{false, true} {
		var b strings.Builder
		p := &Progress{Out: &b, JSON: asJSON, Now: func() time.Time { return now }}
		p.Say("early")
		now = now.Add(3 * time.Second)
		p.Say("late")
		want := "3 s: late\n"
		if asJSON {
			want = `{"elapsed_s":3,"note":"late"}` + "\n"
		}
		if b.String() != want {
			t.Errorf("%q, want %q", b.String(), want)
		}
	}
}

package ui

import (
	"strings"
	"testing"
)

// TestTable: numbers stand at the right, words at the left, the unit row comes
// second, letters outside ASCII count as what they take. Expected text
// hand-worked.
func TestTable(t *testing.T) {
	tb := NewTable(Word("tool"), Num("flow", "m3/h"), Word("verdict"))
	tb.Row("Säge", "820", "meets")
	tb.Row("Hobelmaschine", "5", "short")
	tb.Row("木工", "12")
	var b strings.Builder
	n, err := tb.WriteTo(&b)
	want := "  tool           flow  verdict\n" +
		"                 m3/h\n" +
		"  Säge            820  meets\n" +
		"  Hobelmaschine     5  short\n" +
		"  木工             12\n"
	if err != nil || b.String() != want || n != int64(len(want)) {
		t.Errorf("%d bytes, %v\n%s\nwant\n%s", n, err, b.String(), want)
	}
}

// TestTableWithoutUnits leaves the unit row out.
func TestTableWithoutUnits(t *testing.T) {
	tb := NewTable(Word("a"), Num("b", ""))
	tb.Row("x", "1")
	var b strings.Builder
	if _, err := tb.WriteTo(&b); err != nil || b.String() != "  a  b\n  x  1\n" {
		t.Errorf("%q, %v", b.String(), err)
	}
}

// TestWidth: hand-worked.
func TestWidth(t *testing.T) {
	for s, want := range map[string]int{"": 0, "abc": 3, "ä": 1, "a\u0308": 1, "木": 2, "m³": 2} {
		if got := Width(s); got != want {
			t.Errorf("%q is %d wide, want %d", s, got, want)
		}
	}
}

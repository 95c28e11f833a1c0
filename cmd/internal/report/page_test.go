package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the goldens anew, after you have looked")

// odd is a name that would break a page that does not escape it.
const odd = `saw <b>"1" & 'co'</b>`

// small is a page with something in every part; name stands wherever the shop
// file has a name of its own.
func small(name string) *Page {
	table := func(caption string) Table {
		return Table{Caption: caption, Columns: []Column{{Name: "what"}, {Name: "amount", Unit: "EUR", Number: true}, {Name: "why"}},
			Rows: []Row{{Cells: []string{name, "12.00", "because of " + name}}, {Cells: []string{"together", "12.00"}, Sum: true}, {Cells: []string{"x", "0", "no"}, Bad: true}}}
	}
	block := func(id, title string) Block {
		return Block{ID: id, Title: title, Lead: []string{"Of " + name}, Tables: []Table{table(title)}, Lists: []List{{"List", []string{name}}}, Notes: []string{name}}
	}
	svg := []byte(`<?xml version="1.0"?><svg role="img" width="10pt" height="10pt" viewBox="0 0 10 10" xmlns="http://www.w3.org/2000/svg"><title>a &amp; b</title><path d="M0,0L5,5" style="fill:none"/></svg>`)
	fig := Figure{Alt: "ducts of " + name, Caption: name, SVG: svg}
	return &Page{
		Shop: name, Date: "2026-03-14", Unmet: "This plan does NOT meet it.", Verdict: "2 changes, said " + name,
		Facts: []Fact{{"cost", "12.00 EUR", name}}, Asked: []string{name},
		Options: []Option{{Name: "Cheapest that works", Chosen: true, Cost: "12.00 EUR", Facts: []Fact{{Name: "status", Value: "optimal"}}},
			{Name: "Most air", Cost: "20.00 EUR", Differs: []string{name}}}, OptionsNote: name,
		Conflict: block("conflict", "What cannot be met"), Changes: block("changes", "Changes"), Gates: block("gates", "Gate card"),
		Parts: block("parts", "Parts and work"), Cuts: block("cuts", "Cut list"), More: []Block{block("energy", "Energy over the years")},
		Flows: &Flows{Unit: "m3/h", Lead: name, Rows: []Flow{
			{State: name, Tool: name, Before: 500, After: 1000, Required: 750, BeforeText: "500", AfterText: "1000", RequiredText: "750", Share: "133 %", Word: "meets"},
			{State: name, Tool: "lathe", Before: 500, After: 700, Required: 750, BeforeText: "500", AfterText: "700", RequiredText: "750", Share: "93 %", Word: "short", Short: true},
			{State: "two", Tool: "lathe", BeforeText: "0", AfterText: "0", RequiredText: "0", Word: "meets"}}},
		Views: []Figure{fig, fig},
		Pressure: &Pressure{Lead: name, Unit: "Pa", Figures: []Figure{fig}, Steps: []PressureStep{{Name: name, Before: 100, After: 50, BeforeText: "100", AfterText: "50"},
			{Name: "together", Before: 100, After: 50, BeforeText: "100", AfterText: "50", Sum: true}}},
		Trade: &Trade{Lead: name, Currency: "EUR", AsFound: 60, AsFoundLabel: "as found", Notes: []string{name}, Points: []TradePoint{
			{Cost: 12, Flow: 101, CostText: "12.00 EUR", FlowText: "101 %", Changes: "2", Proved: true, Status: "optimal", Chosen: true},
			{Cost: 6, Flow: 80, CostText: "6.00 EUR", FlowText: "80 %", Changes: "1", Status: "best found", Differs: name}}},
		Speeds: &Speeds{Unit: "m/s", Lead: name, Sets: []SpeedSet{{Name: "After the work", Runs: []string{name}, States: []string{name, "b", "c", "d", "e", "f"},
			Cells: [][]Speed{{{"20.0", OK}, {"9.0", Slow}, {"40.0", Fast}, {"3.0", NoDust}, {"0.0", Still}, {"", NoRun}}}}}},
		Stages: &Stages{Lead: "in order " + name, Items: []Stage{{Name: "first " + name, Cost: "6.00 EUR", Changes: []string{name}, Meets: []string{name}}},
			Figure: Figure{Alt: "stages " + name, SVG: []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"></svg>`)}, Note: "twice " + name},
		Sheet: &Sheet{Lead: name, Blanks: []string{"date"}, Cautions: []string{"Lock the fan off."}, Holes: table("Holes"), Notes: []string{name},
			States: []SheetState{{Title: name, Set: "Open " + name, Mind: "Keep a gate open.", Readings: []SheetReading{{"1", name, "20 m/s", "over range"}}}}},
		Sure: []string{name}, Cautions: []string{"Mind " + name},
	}
}

func written(t *testing.T, p *Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// body is a page from its body on, without the script: look and hashes change
// more often than what the page says.
func body(t *testing.T, page string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, "<body>")
	text, _, two := strings.Cut(rest, "<script>")
	if !ok || !two {
		t.Fatal("no body, or no script")
	}
	return text
}

// node is an element with its text.
type node struct {
	name string
	attr map[string]string
	text string
	// hidden says that it, or what it stands in, is hidden from those who do not see.
	hidden bool
}

// nodes reads a page back. It fails on markup that is not nested as it should be.
func nodes(t *testing.T, page string) []node {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(strings.ReplaceAll(page, " hidden>", ` hidden="">`)))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var out []node
	var open []int
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			if len(open) > 0 {
				t.Fatalf("%s is not closed", out[open[len(open)-1]].name)
			}
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			n := node{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			n.hidden = n.attr["aria-hidden"] != "" || len(open) > 0 && out[open[len(open)-1]].hidden
			open, out = append(open, len(out)), append(out, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			for _, i := range open {
				out[i].text += string(x)
			}
		}
	}
}

// TestGolden guards a page with everything in it: pinned.
func TestGolden(t *testing.T) {
	got := body(t, written(t, small(odd)))
	path := filepath.Join("testdata", "small.html")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("the page has changed; look at it, then run with -update:\n%s", d)
	}
}

// TestParts: every part is there under its heading and in the contents, in an
// order of headings without gaps, and no name is there twice.
func TestParts(t *testing.T) {
	all := nodes(t, written(t, small("lathe")))
	ids, links := map[string]bool{}, []string{}
	level := 0
	for _, n := range all {
		if id, ok := n.attr["id"]; ok {
			if ids[id] {
				t.Errorf("two elements are called %q", id)
			}
			ids[id] = true
		}
		if n.name == "a" {
			links = append(links, strings.TrimPrefix(n.attr["href"], "#"))
		}
		if len(n.name) == 2 && n.name[0] == 'h' && n.name != "hr" {
			if next, err := strconv.Atoi(n.name[1:]); err != nil || next > level+1 {
				t.Errorf("%s %q comes after a heading of level %d", n.name, n.text, level)
			} else {
				level = next
			}
		}
		if n.name == "th" && n.attr["scope"] == "" {
			t.Errorf("a head of a table without scope: %q", n.text)
		}
		if n.name == "svg" && n.attr["aria-label"] == "" && !n.hidden {
			t.Errorf("a picture without words: %v", n.attr)
		}
	}
	want := []string{"conflict", "changes", "choice", "flows", "views", "gates", "trade", "pressure", "speeds", "energy", "stages", "parts", "cuts", "sure", "mind", "sheet"}
	if d := cmp.Diff(want, links); d != "" {
		t.Errorf("contents: %s", d)
	}
	for _, id := range append(want, "verdict") {
		if !ids[id] {
			t.Errorf("no part %q", id)
		}
	}
}

// TestLeftOut: what is empty is not there, neither as a part nor in the contents.
func TestLeftOut(t *testing.T) {
	page := written(t, &Page{Shop: "bare", Meets: true, Verdict: "Change nothing."})
	for _, n := range nodes(t, page) {
		if n.name == "section" && n.attr["id"] != "verdict" || n.name == "li" {
			t.Errorf("%s %v: %q", n.name, n.attr, n.text)
		}
	}
	if strings.Contains(page, "alarm\"") || strings.Contains(page, "unmet\"") {
		t.Error("a plan that meets everything is shown as one that does not")
	}
}

// TestEscapes: a name of a shop comes through as it is, and as text.
func TestEscapes(t *testing.T) {
	page := written(t, small(odd))
	if strings.Contains(page, "<b>\"1\"") || strings.Contains(page, "<b>&#34;1") {
		t.Error("a name came through as markup")
	}
	for _, n := range nodes(t, page) {
		if n.name == "h1" && n.text != odd {
			t.Errorf("the heading reads %q, want %q", n.text, odd)
		}
		if n.name == "svg" && strings.HasPrefix(n.attr["aria-label"], "ducts") && n.attr["aria-label"] != "ducts of "+odd {
			t.Errorf("a picture's words read %q", n.attr["aria-label"])
		}
	}
}

// TestNothingOutside: the page asks for nothing, and may run only its own script
// and style.
func TestNothingOutside(t *testing.T) {
	page := written(t, small("lathe"))
	var style, script, policy string
	for _, n := range nodes(t, page) {
		for name, value := range n.attr {
			outside := strings.Contains(value, "://") && name != "xmlns"
			if name == "src" || name == "srcset" || strings.HasPrefix(name, "on") || outside || name == "href" && !strings.HasPrefix(value, "#") {
				t.Errorf("%s %s=%q", n.name, name, value)
			}
		}
		switch n.name {
		case "link", "iframe", "img", "object", "base", "form":
			t.Errorf("an element %s", n.name)
		case "meta":
			if n.attr["http-equiv"] == "Content-Security-Policy" {
				policy = n.attr["content"]
			}
		}
	}
	for name, to := range map[string]*string{"style": &style, "script": &script} {
		_, rest, _ := strings.Cut(page, "<"+name+">")
		*to, _, _ = strings.Cut(rest, "</"+name+">")
	}
	if strings.Contains(style, "url(") || strings.Contains(style, "@import") {
		t.Error("the style asks for something")
	}
	for _, want := range []string{"default-src 'none'", "style-src-elem " + source(style), "script-src " + source(script)} {
		if !strings.Contains(policy, want) {
			t.Errorf("the policy %q lacks %q", policy, want)
		}
	}
}

// TestInline: only a drawing comes into the page.
func TestInline(t *testing.T) {
	for _, bad := range []string{`<svg><script>1</script></svg>`, `<svg onload="x()"></svg>`, `<svg><path id="a"/></svg>`, `<svg><a href="x"/></svg>`,
		`<svg><path style="fill:url(#a)"/></svg>`, `<svg><image/></svg>`, `<svg><g></svg>`, `plain`, ``} {
		if got := inline([]byte(bad), "x"); got != "" {
			t.Errorf("%s came through as %s", bad, got)
		}
	}
	got := string(inline([]byte(`<?xml version="1.0"?><svg role="img" width="5pt"><path d="M0,0"/></svg>`), `"a" < b`))
	if want := `<svg role="img" aria-label="&#34;a&#34; &lt; b" width="5pt"><path d="M0,0"/></svg>`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestSpeedParts: a wide table is split evenly, and nothing is lost.
func TestSpeedParts(t *testing.T) {
	for _, c := range []struct {
		states int
		want   []int // hand-worked
	}{{1, []int{1}}, {10, []int{10}}, {11, []int{5, 6}}, {20, []int{10, 10}}, {21, []int{7, 7, 7}}} {
		s := SpeedSet{Runs: []string{"r"}, Cells: [][]Speed{nil}}
		for i := range c.states {
			s.States = append(s.States, strconv.Itoa(i))
			s.Cells[0] = append(s.Cells[0], Speed{Text: strconv.Itoa(i)})
		}
		var got []int
		var names []string
		for _, p := range s.Parts() {
			got = append(got, len(p.States))
			names = append(names, p.States...)
			for i, cell := range p.Cells[0] {
				if cell.Text != p.States[i] {
					t.Errorf("%d states: %s stands under %s", c.states, cell.Text, p.States[i])
				}
			}
		}
		if !slices.Equal(got, c.want) || !slices.Equal(names, s.States) {
			t.Errorf("%d states split into %v, want %v", c.states, got, c.want)
		}
	}
}

package shopfile

import (
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"wyewright/network"

	"github.com/google/go-cmp/cmp"
)

// namingTable is a small shop that names a table of runs or of points.
func namingTable(section, name string) []byte {
	points, runs := "", name
	if section == "points" {
		points, runs = "points: {unit: m, at: "+name+"}\n", "\n  main: {from: S, to: COL, size: 160 mm, length: 4 m}"
	}
	return []byte(`version: 1
defaults: {family: dust spiral}
collectors: {fan: {at: COL, inlet: 160 mm, fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2000 Pa}, {flow: 2000 m3/h, pressure: 100 Pa}]}}}
` + points + "runs: " + runs + `
tools: {saw: {flow: 600 m3/h, ports: [{at: S, size: 160 mm, entry: 1.0, gate: yes}]}}
states: [each alone]
`)
}

// written is the same shop with its runs in the file.
const written = `
  main 1: {from: J, to: COL, size: 160 mm, length: 3.5 m, main: true, k: {bends: 0.2, junction: -0.1}}
  drop: {from: S, to: J, via: [[1.5, 2, 3], P], leak class: SMACNA 48, gate: {leak: 1.5 cm2}, pieces: [{size: 100 mm, family: hose, length: 1.5 m, k: 0.4}, {size: 4 in, family: snap-lock, length: 2 m}]}
`

// TestRunsTable: the sheets that spreadsheets write say what the file would.
func TestRunsTable(t *testing.T) {
	shop := func(runs string) string {
		return strings.Replace(string(namingTable("runs", runs)), "runs:", "points: {unit: m, at: {P: [0, 2, 3], S: [0, 0, 1], J: [3, 3, 3], COL: [5, 5, 1]}}\nruns:", 1)
	}
	want := decodeText(t, []byte(shop(written)))
	for name, sheet := range map[string]string{
		"commas": `run,from,to,size,family,length,via,main,k bends,k junction,k,gate leak,leak class
main 1,J,COL,160 mm,,3.5 m,,yes,0.2,-0.1,,,
drop,S,J,100 mm,hose,1.5 m,"[1.5, 2, 3], P",,,,0.4,1.5 cm2,SMACNA 48
drop,,,4 in,snap-lock,2 m,,,,,,,
`,
		"european": "\ufeffsep=;\r\nRun;From;To;SIZE;Family;Length (m);Via;Main;K bends;K junction;K;Gate leak [cm2];Leak class;;\r\n" +
			"main 1;J;COL;160 mm;;3,5;;TRUE;0,2;-0,1;;;;;\r\n" +
			";;;;;;;;;;;;;;\r\n" +
			"drop;S;J;100 mm;hose;1,5;\"[1,5; 2; 3]; P\";;;;0,4;1,5;SMACNA 48;;\r\n" +
			"drop;S;J;4 in;snap-lock;2;;;;;;;;;\r\n;;;\r\n\r\n",
		"tabs": "# exported\nrun\tfrom\tto\tmain\tsize\tfamily\tlength m\tvia\tk bends\tk junction\tk\tgate leak\tleak class\tnote\n" +
			"main 1\tJ\tCOL\tyes\t160 mm\t\t3.5\t\t0.2\t-0.1\t\t\t\n" +
			"drop\tS\tJ\t\t100 mm\those\t1.5\t[1.5, 2, 3]; P\t\t\t0.4\t1.5 cm2\tSMACNA 48\tlook at it\n" +
			"drop\t\t\t\t4 in\tsnap-lock\t2\n",
	} {
		t.Run(name, func(t *testing.T) {
			files := fstest.MapFS{"d/ducts.csv": {Data: []byte(sheet)}}
			f, err := DecodeBeside("shop.yaml", []byte(shop("d/ducts.csv")), builtin(t), files)
			if err != nil {
				t.Fatal(err)
			}
			if f.RunsPath != "d/ducts.csv" {
				t.Errorf("the runs come from %q", f.RunsPath)
			}
			if what := differs(&f.Spec, &want.Spec); what != "" || f.Spec.Runs[1].LeakClass != want.Spec.Runs[1].LeakClass {
				t.Errorf("%s is not what the file says:\n%s", what, cmp.Diff(want.Spec.Runs, f.Spec.Runs, cmp.AllowUnexported(network.Run{})))
			}
			out, err := f.Rewrite(Edits{Runs: []RunEdit{{Run: "main 1", Pieces: []network.Piece{piece(t, f, "dust spiral", "180 mm", 3)}}}})
			if err != nil {
				t.Fatal(err)
			}
			g := decodeText(t, out)
			if g.Spec.Runs[0].Pieces[0].Size != "180 mm" || !samePiece(g.Spec.Runs[1].Pieces[1], want.Spec.Runs[1].Pieces[1]) {
				t.Errorf("the runs do not stand in the new file:\n%s", out)
			}
			if name == "tabs" && !strings.Contains(string(out), "# look at it") {
				t.Errorf("the note is lost:\n%s", out)
			}
			h, err := f.Set("main 1", "size", "180 mm")
			if err != nil || h.Spec.Runs[0].Pieces[0].Size != "180 mm" {
				t.Errorf("a run of a table cannot be set: %v", err)
			}
		})
	}
}

// FuzzRunsTable: no sheet breaks the reader, and what is read can be written
// into the file.
func FuzzRunsTable(f *testing.F) {
	for _, path := range []string{"runs-cells.csv", "runs-units.csv", "runs-heads.csv", "runs-inches.csv", "runs-latin1.csv"} {
		f.Add(string(readFile(f, filepath.Join(broken, path))))
	}
	f.Add("run,from,to,size mm,length m,via,note\nmain,S,COL,160,3,\"[1,2,3]\",x\n")
	f.Add("\ufeffsep=;\nrun;from;to;size mm;length m\nmain;S;COL;160;3,5\n")
	c := builtin(f)
	src := namingTable("runs", "ducts.csv")
	f.Fuzz(func(t *testing.T, text string) {
		files := fstest.MapFS{"ducts.csv": {Data: []byte(text)}}
		shop, err := DecodeBeside("shop.yaml", src, c, files)
		if err != nil {
			_ = faultsOf(t, err)
			return
		}
		if _, err := shop.Rewrite(Edits{}); err != nil {
			t.Errorf("what was read cannot be written: %v\n%s", err, text)
		}
	})
}

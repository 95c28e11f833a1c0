package shopfile

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the expected diagnostics of testdata/broken")

var long = flag.Bool("long", false, "try many more random changes of files")

const broken = "../../testdata/broken"

// Each file of testdata/broken holds one fault; the text beside it is what the
// user reads. The texts are pinned: they were read over by hand when written.
func TestBroken(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join(broken, "*.*"))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, path := range paths {
		if strings.HasSuffix(path, ".txt") {
			continue
		}
		seen++
		t.Run(filepath.Base(path), func(t *testing.T) {
			got := complaint(t, path)
			golden := path + ".txt"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if d := cmp.Diff(string(readFile(t, golden)), got); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
	if seen < 50 {
		t.Errorf("only %d broken files", seen)
	}
}

// complaint is what is said about a file: faults, or else warnings.
func complaint(t *testing.T, path string) string {
	t.Helper()
	name, src := filepath.Base(path), readFile(t, path)
	if table, _, _ := strings.Cut(name, "-"); table == "runs" || table == "points" {
		if filepath.Ext(path) == ".csv" {
			name, src = "shop.yaml", namingTable(table, name)
		}
	} else if filepath.Ext(path) == ".csv" {
		shop := decodeFile(t, filepath.Join(shops, "school.yaml"))
		_, err := DecodeReadings(name, src, shop)
		return faultsOf(t, err)
	}
	f, err := DecodeBeside(name, src, builtin(t), os.DirFS(broken))
	if err != nil {
		return faultsOf(t, err)
	}
	if len(f.Warnings) == 0 {
		t.Fatal("nothing was wrong with the file")
	}
	return Diagnostics(f.Warnings).Error() + "\n"
}

// faultsOf checks the shape of the error and returns its text.
func faultsOf(t *testing.T, err error) string {
	t.Helper()
	var ds Diagnostics
	if !errors.As(err, &ds) || !errors.Is(err, ErrInvalid) {
		t.Fatalf("the error is %T: %v", err, err)
	}
	for i, d := range ds {
		if d.Msg == "" || d.File == "" || d.Warning {
			t.Errorf("incomplete fault %+v", d)
		}
		if i > 0 && d.File == ds[i-1].File && (d.Line < ds[i-1].Line || d.Line == ds[i-1].Line && d.Column < ds[i-1].Column) {
			t.Errorf("%v is out of file order", d)
		}
	}
	return err.Error() + "\n"
}

// The shape of a message is that of the style guide: place, message, line with
// caret, hint. Hand-worked.
func TestDiagnosticShape(t *testing.T) {
	d := &Diagnostic{File: "shop.yaml", Line: 14, Column: 13, Msg: `length "5 furlong": unknown unit`,
		Excerpt: "    length: 5 furlong", Hint: "use in, ft, mm, cm or m"}
	want := `shop.yaml:14:13: length "5 furlong": unknown unit
   14 |     length: 5 furlong
      |             ^
      hint: use in, ft, mm, cm or m`
	if got := d.Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	d.Excerpt, d.Column = strings.Repeat("ä", 300)+"X"+strings.Repeat("ö", 300), 301
	lines := strings.Split(d.Error(), "\n")
	caret := len([]rune(lines[2])) - 1
	if line := []rune(lines[1]); len(line) > 100 || line[caret] != 'X' {
		t.Errorf("the caret misses in a long line:\n%s", d.Error())
	}
}

// Hand-worked distances.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"length", "lenght", 1}, {"saw", "saws", 1}, {"bleed", "blend", 1}, {"size", "seal", 3}} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
	if got := Nearest("lenght", []string{"size", "length"}); got != "length" {
		t.Errorf("nearest is %q", got)
	}
	if got := Nearest("xyz", []string{"size", "length"}); got != "" {
		t.Errorf("nearest is %q, want none", got)
	}
}

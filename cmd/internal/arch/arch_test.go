package arch

import (
	"bytes"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const top = "../../.."

// walk calls f for every file of the repository but those git does not keep.
// Files are read in this process, so that the test cache sees each of them.
func walk(t *testing.T, f func(name string, data []byte)) {
	t.Helper()
	err := filepath.WalkDir(top, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".git" || strings.HasSuffix(d.Name(), "-redesign") {
				return fs.SkipDir
			}
			return nil
		}
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(top, file)
		if err != nil {
			return err
		}
		f(filepath.ToSlash(rel), data)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestImports(t *testing.T) {
	seen := 0
	walk(t, func(name string, data []byte) {
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, data, parser.ImportsOnly)
		if err != nil {
			t.Error(err)
			return
		}
		seen++
		for _, spec := range file.Imports {
			imp, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Error(err)
			}
			if wrong := judge(path.Dir(name), imp); wrong != "" {
				t.Errorf("%s: %s", name, wrong)
			}
		}
	})
	if seen < 60 {
		t.Errorf("only %d files seen", seen)
	}
}

// The checker itself must object to what the policy forbids.
func TestCheckerObjects(t *testing.T) {
	for _, c := range []struct{ pkg, path string }{
		{"network", "wyewright/optimize"},
		{"network/units", "wyewright/network/air"},
		{"optimize", "wyewright/network/shopfile"},
		{"plots", "wyewright/optimize/price"},
		{"network", "gonum.org/v1/plot/vg"},
		{"optimize", "github.com/spf13/cobra"},
		{"network/unheard", "fmt"},
	} {
		if judge(c.pkg, c.path) == "" {
			t.Errorf("%s may import %s", c.pkg, c.path)
		}
	}
	if wrong := judge("optimize", "wyewright/network"); wrong != "" {
		t.Error(wrong)
	}
}

// TestFiles: no long source file, a comment on every package, and no word of
// the place the project was made at.
func TestFiles(t *testing.T) {
	words := []string{"sha" + "red/", "physics" + ".md", "trade" + ".md", "search" + ".md", "scenarios" + ".md", "style" + ".md", "design" + ".md"}
	comments := map[string]bool{}
	walk(t, func(name string, data []byte) {
		for _, w := range words {
			if bytes.Contains(data, []byte(w)) && !slices.Contains([]string{".png"}, path.Ext(name)) {
				t.Errorf("%s contains %q", name, w)
			}
		}
		if !strings.HasSuffix(name, ".go") {
			return
		}
		if n := bytes.Count(data, []byte("\n")); n > 500 {
			t.Errorf("%s has %d lines", name, n)
		}
		if strings.HasSuffix(name, "_test.go") {
			return
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, data, parser.PackageClauseOnly|parser.ParseComments)
		if err != nil {
			t.Error(err)
			return
		}
		comments[path.Dir(name)] = comments[path.Dir(name)] || file.Doc != nil
	})
	for pkg, ok := range comments {
		if !ok {
			t.Errorf("package %s has no comment", pkg)
		}
	}
}

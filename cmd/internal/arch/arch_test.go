package arch

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// top is the root of the repository.
const top = "../../.."

// read returns a file of the repository.
func read(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(top, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// files lists the files of the repository but those that git does not keep,
// slashed and relative to its root.
func files(t *testing.T) []string {
	t.Helper()
	var out []string
	err := fs.WalkDir(os.DirFS(top), ".", func(name string, d fs.DirEntry, err error) error {
		base := path.Base(name)
		hidden := strings.HasPrefix(base, ".") && name != "."
		switch {
		case err != nil:
			return err
		case d.IsDir() && (hidden && base != ".ci" || strings.HasSuffix(base, "-redesign")):
			return fs.SkipDir
		case d.IsDir(), base == ".git": // of a linked worktree
			return nil
		}
		out = append(out, name)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sources parses every Go file. This process reads each of them, so that the
// test cache sees a change: behind a call of "go list" it would not.
func sources(t *testing.T) map[string]*ast.File {
	t.Helper()
	out := map[string]*ast.File{}
	for _, name := range files(t) {
		if path.Ext(name) != ".go" {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, read(t, name), parser.ImportsOnly|parser.ParseComments)
		if err != nil {
			t.Error(err)
			continue
		}
		out[name] = f
	}
	if len(out) < 100 {
		t.Errorf("only %d Go files seen", len(out))
	}
	return out
}

func isTest(name string) bool { return strings.HasSuffix(name, "_test.go") }

func TestImports(t *testing.T) {
	all := sources(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if isTest(name) {
			continue
		}
		if pkg := path.Dir(name); rank(pkg) < 0 {
			t.Errorf("package %s has no layer: add it to the list", pkg)
		}
		for _, spec := range all[name].Imports {
			imp, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Error(err)
			}
			if wrong := judge(path.Dir(name), imp); wrong != "" {
				t.Errorf("%s: %s", name, wrong)
			}
		}
	}
}

func TestJudge(t *testing.T) {
	for _, c := range []struct{ pkg, path, wrong string }{
		{"network", "wyewright/optimize", "not below it"},
		{"network/units", "wyewright/network/air", "not below it"},
		{"network/air", "wyewright/network/fan", "not below it"}, // same line
		{"cmd/internal/cli", "wyewright/network/unheard", "not below it"},
		{"network/unheard", "wyewright/network/units", "not below it"},
		{"optimize", "wyewright/network/shopfile", "knows no files"},
		{"optimize/parts", "wyewright/network/shopfile", "knows no files"},
		{"optimize", "wyewright/network/calibrate", "variations"},
		{"plots", "wyewright/optimize/price", "may import only"},
		{"plots", "wyewright/network/catalog", "may import only"},
		{"network", "gonum.org/v1/plot/vg", "for plots alone"},
		{"optimize", "github.com/spf13/cobra", "for cmd/internal/cli alone"},
		{"cmd/internal/project", "github.com/goccy/go-yaml/ast", "for network/shopfile alone"},
		{"cmd/internal/report", "github.com/xuri/excelize/v2", "for cmd/internal/sheet alone"},
		{"optimize", "wyewright/network", ""},
		{"plots", "wyewright/network/fan", ""},
		{"plots", "gonum.org/v1/plot", ""},
		{"cmd/internal/project", "wyewright/network/shopfile", ""},
		{"network", "gonum.org/v1/plotter", ""}, // another library of a like name
	} {
		got := judge(c.pkg, c.path)
		if (got == "") != (c.wrong == "") || !strings.Contains(got, c.wrong) {
			t.Errorf("%s imports %s: %q, want %q", c.pkg, c.path, got, c.wrong)
		}
	}
}

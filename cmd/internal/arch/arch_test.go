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
	"regexp"
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
		{"network/unheard", "fmt", "has no layer"},
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

func TestLength(t *testing.T) {
	for _, name := range files(t) {
		if path.Ext(name) == ".go" {
			if wrong := tooLong(read(t, name)); wrong != "" {
				t.Errorf("%s: %s", name, wrong)
			}
		}
	}
	if tooLong([]byte(strings.Repeat("\n", longest))) != "" || tooLong([]byte(strings.Repeat("\n", longest+1))) == "" {
		t.Errorf("the limit is not at %d lines", longest)
	}
}

func TestPackageComments(t *testing.T) {
	told := map[string]bool{}
	for name, f := range sources(t) {
		if !isTest(name) {
			told[path.Dir(name)] = told[path.Dir(name)] || commented(f)
		}
	}
	for _, pkg := range slices.Sorted(maps.Keys(told)) {
		if !told[pkg] {
			t.Errorf("package %s has no comment", pkg)
		}
	}
	for src, want := range map[string]bool{
		"package a": false, "// Other words.\npackage a": false, "// Package a parts air.\n\npackage a": false,
		"// Package a parts air.\npackage a": true, "// Command b does it.\npackage main": true,
	} {
		f, err := parser.ParseFile(token.NewFileSet(), "x.go", src, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		if commented(f) != want {
			t.Errorf("%q: comment %v, want %v", src, !want, want)
		}
	}
}

func TestForeignWords(t *testing.T) {
	for _, name := range files(t) {
		if w := foreignIn(read(t, name)); w != "" {
			t.Errorf("%s holds %q", name, w)
		}
	}
	for text, want := range map[string]bool{
		"see sha" + "red/x": true, "as physics" + ".md says": true, "of issue" + " 12": true, "fixes #" + "7.": true,
		"README.md": false, "# 7 machines": false, "a colour #102030": false, "sha" + "red/\x00": false,
	} {
		if got := foreignIn([]byte(text)); (got != "") != want {
			t.Errorf("%q: found %q", text, got)
		}
	}
}

// The notices name every module that go.mod requires, and testdata/README.md
// every file of reference values or its folder.
func TestCredits(t *testing.T) {
	notices := string(read(t, "README.md"))
	all := modules(read(t, "go.mod"))
	if len(all) < 10 {
		t.Errorf("only %d modules seen", len(all))
	}
	for _, m := range all {
		if !strings.Contains(notices, "`"+m+"`") {
			t.Errorf("README.md has no notice of %s", m)
		}
	}
	const folder = "testdata/reference/"
	sources := string(read(t, "testdata/README.md"))
	for _, name := range files(t) {
		if rest, ok := strings.CutPrefix(name, folder); ok && !strings.Contains(sources, rest) && !strings.Contains(sources, path.Dir(rest)+"/`") {
			t.Errorf("testdata/README.md does not say where %s is from", name)
		}
	}
}

func TestModules(t *testing.T) {
	got := modules([]byte("module x\n\ngo 1.26.0\n\nrequire b.org/b v1.0.0\n\nrequire (\n\ta.org/a v0.1.0 // indirect\n)\n\ntool c.org/c/cmd\n"))
	if want := []string{"a.org/a", "b.org/b"}; !slices.Equal(got, want) {
		t.Errorf("modules %v, want %v", got, want)
	}
}

// What README.md shows of a shop file stands in the school's file, line by
// line.
func TestExcerpt(t *testing.T) {
	_, rest, found := strings.Cut(string(read(t, "README.md")), "```yaml\n")
	block, _, closed := strings.Cut(rest, "```")
	if !found || !closed {
		t.Fatal("README.md has no block of YAML")
	}
	school := string(read(t, "testdata/shops/school.yaml"))
	for line := range strings.Lines(block) {
		if !strings.Contains(school, "\n"+line) {
			t.Errorf("README.md shows %q, which is not in testdata/shops/school.yaml", strings.TrimSpace(line))
		}
	}
}

// Every Go file that DEVELOPERS.md names is there.
func TestGuide(t *testing.T) {
	named := regexp.MustCompile("[a-z_/]+\\.go\\b").FindAllString(string(read(t, "DEVELOPERS.md")), -1)
	if len(named) < 20 {
		t.Errorf("only %d files named", len(named))
	}
	all := files(t)
	for _, name := range named {
		if !slices.ContainsFunc(all, func(f string) bool { return strings.HasSuffix("/"+f, "/"+name) }) {
			t.Errorf("DEVELOPERS.md names %s, which is not there", name)
		}
	}
}

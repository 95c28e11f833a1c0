package arch

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

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
	named := regexp.MustCompile(`[a-z_/]+\.go\b`).FindAllString(string(read(t, "DEVELOPERS.md")), -1)
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

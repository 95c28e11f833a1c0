package shopfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/catalog"
)

const shops = "../../testdata/shops"

func builtin(t testing.TB) *catalog.Catalog {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

func decodeFile(t testing.TB, path string) *File {
	t.Helper()
	f, err := Decode(filepath.Base(path), readFile(t, path), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func demos(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(shops, "*.yaml"))
	if err != nil || len(paths) < 5 {
		t.Fatalf("found %d demo shops, %v", len(paths), err)
	}
	return paths
}

// Every demo shop decodes without a warning, its readings decode, it makes a
// network, and rewriting it without edits changes no byte.
func TestDemos(t *testing.T) {
	for _, path := range demos(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			f := decodeFile(t, path)
			for _, w := range f.Warnings {
				t.Error(w)
			}
			if _, err := network.New(f.Spec); err != nil {
				t.Error(err)
			}
			if f.ReadingsPath != "" {
				name := filepath.Join(shops, f.ReadingsPath)
				if rs, err := DecodeReadings(f.ReadingsPath, readFile(t, name), f); err != nil || len(rs) == 0 {
					t.Errorf("%d readings: %v", len(rs), err)
				}
			}
			if strings.Contains(string(f.Source()), "\t") {
				t.Error("a tab in a demo")
			}
		})
	}
}

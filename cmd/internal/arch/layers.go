// Package arch holds the policy of the repository as tests: who may import
// whom, and rules about files that no compiler checks.
package arch

import (
	"fmt"
	"slices"
	"strings"
)

// module is the module path with a slash.
const module = "wyewright/"

// layers lists packages from the bottom up. A package may import only
// packages of earlier lines. A line may name a package still to come, so that
// its place is settled before it is written.
var layers = []string{
	"network/units",
	"network/air network/collapse network/loss network/fan network/mesh network/lsq network/traverse",
	"network",
	"network/catalog network/networktest",
	"network/calibrate",
	"network/shopfile",
	"optimize/price optimize/core optimize/pack",
	"optimize/parts optimize/layout",
	"optimize",
	"plots",
	"cmd/internal/arch cmd/internal/ui cmd/internal/project cmd/internal/report cmd/internal/sheet",
	"cmd/internal/cli",
	"cmd/wyewright",
	"testdata/peers/trees testdata/peers/loops",
}

// barred lists imports that the layers would allow but the design does not,
// with the reason. It holds for a package and all below its path.
var barred = []struct{ from, to, why string }{
	{"optimize", "network/shopfile", "the search knows no files"},
	{"optimize", "network/calibrate", "fitted doubt reaches the search as variations of the network"},
}

// confined lists packages that may import only a few of the lower ones.
var confined = map[string][]string{
	"plots": {"network", "network/units", "network/fan"}, // pictures take plain structs
}

// fences says which package alone may import a heavy library.
var fences = map[string]string{
	"github.com/spf13/cobra":   "cmd/internal/cli",
	"github.com/xuri/excelize": "cmd/internal/sheet",
	"github.com/goccy/go-yaml": "network/shopfile",
	"gonum.org/v1/plot":        "plots",
}

// rank is the layer of a package, −1 where it has none.
func rank(pkg string) int {
	return slices.IndexFunc(layers, func(line string) bool { return slices.Contains(strings.Fields(line), pkg) })
}

// within reports whether an import path is root or lies below it.
func within(path, root string) bool { return path == root || strings.HasPrefix(path, root+"/") }

// judge returns what is wrong with an import of a path by a package, "" if
// nothing is. A package without a layer may import none of ours.
func judge(pkg, path string) string {
	own := rank(pkg)
	for lib, home := range fences {
		if within(path, lib) && pkg != home {
			return fmt.Sprintf("%s imports %s, which is for %s alone", pkg, path, home)
		}
	}
	to, ours := strings.CutPrefix(path, module)
	if !ours {
		return ""
	}
	if r := rank(to); r < 0 || r >= own {
		return fmt.Sprintf("%s imports %s, which is not below it", pkg, to)
	}
	if few, ok := confined[pkg]; ok && !slices.Contains(few, to) {
		return fmt.Sprintf("%s imports %s, but may import only %s", pkg, to, strings.Join(few, ", "))
	}
	for _, b := range barred {
		if within(pkg, b.from) && b.to == to {
			return fmt.Sprintf("%s imports %s: %s", pkg, to, b.why)
		}
	}
	return ""
}

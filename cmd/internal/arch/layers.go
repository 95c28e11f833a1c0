// Package arch holds the import policy of the repository as tests: who may
// import whom, and rules about files that no compiler checks.
package arch

import (
	"fmt"
	"slices"
	"strings"
)

// module is the module path with a slash.
const module = "wyewright/"

// layers lists packages from the bottom up. A package may import only
// packages of earlier lines.
var layers = []string{
	"network/units",
	"network/air network/loss network/fan",
	"network",
	"network/catalog network/networktest",
	"network/calibrate",
	"network/shopfile",
	"optimize/price",
	"optimize/parts",
	"optimize",
	"plots",
	"cmd/internal/arch cmd/internal/ui cmd/internal/project cmd/internal/report cmd/internal/sheet",
	"cmd/internal/cli",
	"cmd/wyewright",
}

// barred lists imports that the layers would allow but the design does not,
// with the reason.
var barred = []struct{ from, to, why string }{
	{"optimize", "network/shopfile", "the search knows no files"},
	{"optimize", "network/calibrate", "fitted doubt reaches the search as network variations"},
	{"plots", "network/shopfile", "pictures take plain structs"},
	{"plots", "network/catalog", "pictures take plain structs"},
	{"plots", "optimize", "pictures take plain structs"},
	{"plots", "optimize/price", "pictures take plain structs"},
	{"plots", "optimize/parts", "pictures take plain structs"},
}

// fences says which package alone may import a heavy library.
var fences = map[string]string{
	"github.com/spf13/cobra":      "cmd/internal/cli",
	"gonum.org/v1/plot":           "plots",
	"github.com/goccy/go-yaml":    "network/shopfile",
	"github.com/xuri/excelize/v2": "cmd/internal/sheet",
}

// rank is the layer of a package, −1 where it has none.
func rank(pkg string) int {
	return slices.IndexFunc(layers, func(line string) bool { return slices.Contains(strings.Fields(line), pkg) })
}

// judge returns what is wrong with an import of a path by a package, "" if
// nothing is.
func judge(pkg, path string) string {
	own := rank(pkg)
	if own < 0 {
		return fmt.Sprintf("package %s has no layer: add it to the list", pkg)
	}
	for lib, home := range fences {
		if (path == lib || strings.HasPrefix(path, lib+"/")) && pkg != home {
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
	for _, b := range barred {
		if b.from == pkg && b.to == to {
			return fmt.Sprintf("%s imports %s: %s", pkg, to, b.why)
		}
	}
	return ""
}

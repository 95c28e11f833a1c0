package cli

import (
	"maps"
	"slices"
	"testing"

	"github.com/spf13/pflag"
)

// TestEveryFlagCompletes: each flag that takes a value is in one of the lists of
// complete.go, and no list holds one that is gone; each verb completes its
// arguments.
func TestEveryFlagCompletes(t *testing.T) {
	a := &app{}
	root := a.root()
	used := map[string]bool{}
	for _, c := range append(root.Commands(), root) {
		if c.Runnable() && c != root && c.Name() != "help" && c.ValidArgsFunction == nil && len(c.ValidArgs) == 0 {
			t.Errorf("%s does not complete its arguments: complete.go does not know %q", c.Name(), c.Use)
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			used[f.Name], used[c.Name()+" --"+f.Name] = true, true
			if _, ok := c.GetFlagCompletionFunc(f.Name); !ok && f.Value.Type() != "bool" && f.Name != "out" {
				t.Errorf("%s --%s is in no list of complete.go", c.Name(), f.Name)
			}
		})
	}
	for _, names := range [][]string{slices.Collect(maps.Keys(shopFlags)), slices.Collect(maps.Keys(wordFlags)), slices.Collect(maps.Keys(fileFlags)), slices.Collect(maps.Keys(freeFlags))} {
		for _, name := range names {
			if !used[name] && name != "run" { // to come
				t.Errorf("no verb has the flag %s", name)
			}
		}
	}
}

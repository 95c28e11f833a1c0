package cli

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

// TestBadFlags: what is said of a flag that cannot be read. Hand-worked.
func TestBadFlags(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"--time 60", `--time "60": not a time with its unit` + "\nhint: give 60s or 1m;"},
		{"--time 90", "hint: give 90s or 1m30s;"},
		{"--time 30", "hint: give 30s or 30m for minutes;"},
		{"--time 3600", "hint: give 3600s or 1h;"},
		{"--time=soon", "hint: give 60s or 1m;"},
		{"--time", "--time needs a time with its unit"},
		{"--front many", `--front "many": not a whole number` + "\nhint: give a number such as --front 8;"},
		{"--tme 60s", `did you mean --time?`},
		{"--quiet=maybe", `--quiet "maybe": not true or false`},
		{"--xyzzy", "unknown flag: --xyzzy\nhint: see wyewright redesign --help"},
	} {
		var out, err bytes.Buffer
		code := Main(context.Background(), streams(&out, &err), append([]string{"redesign", "shop.yaml"}, strings.Fields(c.args)...))
		if code != Usage || !strings.Contains(err.String(), c.want) {
			t.Errorf("%s: exit code %d, said %s", c.args, code, err.String())
		}
	}
}

package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wyewright/cmd/internal/ui"
)

func streams(out, err *bytes.Buffer) ui.Streams {
	return ui.Streams{In: bytes.NewReader(nil), Out: out, Err: err, Now: time.Now}
}

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"wyewright": func() {
			os.Exit(int(Main(context.Background(), ui.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: time.Now}, os.Args[1:])))
		},
	})
}

func TestScripts(t *testing.T) {
	shops, err := filepath.Abs("../../../testdata/shops")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "../../../testdata/scripts",
		RequireExplicitExec: true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
		Setup: func(e *testscript.Env) error {
			e.Setenv("SHOPS", shops)
			return nil
		},
	})
}

// exits runs a command that must end with a code: exits 4 wyewright solve ….
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND [ARG…]")
	}
	code := "0"
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var e *exec.ExitError
		if !errors.As(err, &e) {
			ts.Fatalf("%v", err)
		}
		code = fmt.Sprint(e.ExitCode())
	}
	if code != args[0] {
		ts.Fatalf("exit code %s, want %s", code, args[0])
	}
}

// TestExitCodes: the documented codes are what Main returns.
func TestExitCodes(t *testing.T) {
	shops := "../../../testdata/shops/"
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	for _, c := range []struct {
		ctx  context.Context
		args []string
		want ExitCode
	}{
		{context.Background(), []string{"version"}, Done},
		{context.Background(), []string{"nonsense"}, Usage},
		{context.Background(), []string{"check", "../../../testdata/broken"}, Usage},
		{context.Background(), []string{"check", "none.yaml"}, Usage},
		{context.Background(), []string{"solve", shops + "school.yaml"}, NotMet},
		{context.Background(), []string{"redesign", shops + "instrument-overload.yaml", "--no-plots", "--conflict-time", "0", "-o", t.TempDir()}, NotMet},
		{context.Background(), []string{"redesign", shops + "school.yaml", "--no-plots", "--front", "0", "--time", "1ns", "-o", t.TempDir()}, NotMet},
		{cancelled, []string{"redesign", shops + "school.yaml", "--no-plots", "-o", t.TempDir()}, Interrupted},
	} {
		var out, errs bytes.Buffer
		if got := Main(c.ctx, streams(&out, &errs), c.args); got != c.want {
			t.Errorf("%v: exit %d, want %d\n%s%s", c.args, got, c.want, out.String(), errs.String())
		}
	}
}

// TestSolveJSON reads the JSON of solve back.
func TestSolveJSON(t *testing.T) {
	var out, errs bytes.Buffer
	Main(context.Background(), streams(&out, &errs), []string{"solve", "../../../testdata/shops/school.yaml", "--json"})
	var got jsonSolve
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.States) != 8 || got.Meets || got.States[0].Collector.Flow <= 0 || got.States[0].ResidualP > 1e-6 {
		t.Errorf("%d states, meets %v", len(got.States), got.Meets)
	}
}

// TestFlagsOnce: no verb defines a flag that the root defines too, and every
// verb and flag has a text.
func TestFlagsOnce(t *testing.T) {
	a := &app{}
	root := a.root()
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		if c.Short == "" {
			t.Errorf("%s has no text", c.Name())
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if f.Usage == "" {
				t.Errorf("%s --%s has no text", c.Name(), f.Name)
			}
			if c != root && root.PersistentFlags().Lookup(f.Name) != nil && c.Flags().Lookup(f.Name) != root.PersistentFlags().Lookup(f.Name) {
				t.Errorf("%s --%s hides a flag of the root", c.Name(), f.Name)
			}
		})
		for _, sub := range c.Commands() {
			visit(sub)
		}
	}
	visit(root)
}

// Command wyewright plans the cheapest change to a workshop's dust ducts that
// gives every tool its air and lets no dust settle.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"time"

	"golang.org/x/term"

	"wyewright/cmd/internal/cli"
	"wyewright/cmd/internal/ui"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	go func() {
		<-ctx.Done()
		stop() // a second Ctrl-C ends the program at once
		fmt.Fprintln(os.Stderr, "wyewright: stopping; press Ctrl-C again to quit at once")
	}()
	code := cli.Main(ctx, ui.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr,
		Terminal: term.IsTerminal(int(os.Stderr.Fd())), Now: time.Now}, os.Args[1:])
	os.Exit(int(code))
}

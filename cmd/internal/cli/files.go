package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
)

// outFlag gives a verb the flag that sends its answer into a new file.
func outFlag(c *cobra.Command, out *string) {
	c.Flags().StringVarP(out, "out", "o", "", "write the answer into a new `file` instead of standard output")
}

// into runs a verb with its answer sent into a new file; without a name the
// answer goes where it always goes. The file is written also where the verb
// ends in a code that comes with an answer: not met, faults as JSON,
// interrupted with the best so far.
func (a *app) into(path string, run func() error) error {
	if path == "" {
		return run()
	}
	if err := absent(path); err != nil {
		return err
	}
	var answer bytes.Buffer
	old := a.Out
	a.Out = &answer
	err := run()
	a.Out = old
	var e *exitError
	if answered := errors.As(err, &e) && e.err == nil && answer.Len() > 0; err != nil && !answered {
		return err
	}
	if werr := writeNew(path, answer.Bytes()); werr != nil {
		return werr
	}
	a.note("wrote %s\n", path)
	return err
}

// note says something beside the answer, unless asked to be quiet.
func (a *app) note(format string, args ...any) {
	if !a.quiet {
		fmt.Fprintf(a.Err, format, args...)
	}
}

// absent refuses a file that is there already.
func absent(path string) error {
	_, err := os.Lstat(path)
	switch {
	case err == nil:
		return fail(Usage, fmt.Errorf("%s is there already", path), "give another name; nothing is overwritten")
	case !errors.Is(err, fs.ErrNotExist):
		return fail(Usage, err, "give another name")
	}
	return nil
}

// writeNew writes a file that must not be there yet, through a temporary one.
func writeNew(path string, data []byte) error {
	if err := absent(path); err != nil {
		return err
	}
	if err := writeFile(path, data); err != nil {
		return fail(Usage, fmt.Errorf("cannot write %s: %w", path, err), "is the folder there, and may you write to it?")
	}
	return nil
}

// writeFile writes a file through a temporary one in the same folder, so that
// no half file is ever seen.
func writeFile(path string, data []byte) error {
	t, err := os.CreateTemp(filepath.Dir(path), ".wyewright-*")
	if err != nil {
		return err
	}
	defer func() { _ = os.Remove(t.Name()) }() // gone already after the rename
	if _, err = t.Write(data); err == nil {
		err = t.Chmod(0o644)
	}
	if cerr := t.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	return os.Rename(t.Name(), path)
}

// onFile is the run of a verb that takes one file and prints an answer: it notes
// the file and puts the answer where out says.
func (a *app) onFile(file, out *string, do func(context.Context) error) func(*cobra.Command, []string) error {
	return func(c *cobra.Command, args []string) error {
		*file = args[0]
		return a.into(*out, func() error { return do(c.Context()) })
	}
}

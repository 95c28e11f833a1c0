package cli

import (
	"bytes"
	_ "embed"
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// quoting replaces the part of cobra's script that puts answers on the line.
//
//go:embed completebash.sh
var quoting string

// question is where cobra's script asks for answers. A quote that is still open on
// the line has to be closed there.
const (
	question       = `out=$(eval "${requestComp}" 2>/dev/null)`
	questionQuoted = `local quote
    case $cur in
    \'* | \"*) quote=${cur:0:1} ;;
    esac
    out=$(eval "${requestComp}${quote}" 2>/dev/null)`
)

// bashCompletion writes cobra's script for bash, changed so that names with
// spaces can be completed, within quotes and without.
func bashCompletion(root *cobra.Command, w io.Writer) error {
	var script bytes.Buffer
	if err := root.GenBashCompletionV2(&script, true); err != nil {
		return err
	}
	text := script.String()
	if strings.Count(text, question) != 1 {
		return errors.New("the script for bash is not the one expected: please report this")
	}
	_, err := io.WriteString(w, strings.Replace(text, question, questionQuoted, 1)+"\n"+quoting)
	return err
}

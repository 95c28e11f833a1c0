package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
	"github.com/spf13/pflag"
)

// manPage is a manual page, named as man looks for it.
type manPage struct {
	name string
	text []byte
}

// newMan writes the manual pages into a folder. It is for packagers and hidden
// from others.
func newMan(a *app) *cobra.Command {
	return &cobra.Command{
		Use:    "manpages FOLDER",
		Short:  "Write the manual pages into a folder",
		Hidden: true,
		Args:   takes(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			if info, err := os.Stat(args[0]); err != nil || !info.IsDir() {
				return fail(Usage, fmt.Errorf("%s is no folder", args[0]), "make it first; pages in it are written anew")
			}
			return writePages(args[0])
		},
	}
}

// writePages writes every page into a folder that is there.
func writePages(dir string) error {
	pages, err := manPages()
	for _, p := range pages {
		err = errors.Join(err, writeFile(filepath.Join(dir, p.name), p.text))
	}
	return err
}

// manPages are the pages of the program, its verbs and topics. They bear no date
// and are the same on every machine.
func manPages() ([]manPage, error) {
	root := (&app{}).root()
	var out []manPage
	for _, c := range append([]*cobra.Command{root}, root.Commands()...) {
		if c.Hidden || c.Name() == "help" {
			continue
		}
		text, err := page(c)
		if err != nil {
			return nil, fmt.Errorf("manual page of %s: %w", c.Name(), err)
		}
		out = append(out, manPage{strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1", text})
	}
	return out, nil
}

// page is the manual page of a verb or topic.
func page(c *cobra.Command) ([]byte, error) {
	c.DisableAutoGenTag = true
	if c.Long == "" {
		c.Long = c.Short
	}
	c.Long = manText(c.Long)
	c.LocalFlags().VisitAll(func(f *pflag.Flag) { f.Usage = plain.Replace(f.Usage) })
	var out bytes.Buffer
	never := time.Time{}
	err := doc.GenMan(c, &doc.GenManHeader{Date: &never, Source: "wyewright " + Version, Manual: "wyewright"}, &out)
	text := bytes.Replace(out.Bytes(), []byte(`"`+never.Format("Jan 2006")+`"`), []byte(`""`), 1)
	switch {
	case !c.HasParent():
		text = bytes.TrimRight(text, "\n")
		for _, t := range topics() {
			text = fmt.Appendf(text, `, \fB%s-%s(1)\fP`, c.Name(), t.Name())
		}
		text = append(text, '\n')
	case c.IsAdditionalHelpTopicCommand():
		text = topicPage(text, c)
	}
	return text, err
}

// topicPage takes out of the page of a topic what only verbs have: options, and
// a line of use of its own.
func topicPage(text []byte, c *cobra.Command) []byte {
	options, also := []byte("\n.SH OPTIONS\n"), []byte("\n.SH SEE ALSO\n")
	if i, j := bytes.Index(text, options), bytes.Index(text, also); i >= 0 && j > i {
		text = slices.Delete(text, i, j)
	}
	help := c.Parent().Name() + " help " + c.Name()
	return bytes.Replace(text, []byte(`\fB`+c.UseLine()+`\fP`), []byte(`\fB`+help+`\fP`), 1)
}

// plain keeps Markdown from reading marks into plain text.
var plain = strings.NewReplacer("*", `\*`, "_", `\_`, "<", `\<`, ">", `\>`)

// manText is a help text as Markdown: lines that are set in stay as they are.
func manText(help string) string {
	var out strings.Builder
	set := false
	for line := range strings.Lines(help) {
		if in := strings.HasPrefix(line, "  "); in != set && strings.TrimSpace(line) != "" {
			out.WriteString("\n")
			set = in
		}
		if set {
			out.WriteString("    " + line)
		} else {
			out.WriteString(plain.Replace(line))
		}
	}
	return out.String()
}

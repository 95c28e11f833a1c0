package cli

import (
	"embed"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/network/shopfile"
)

//go:embed topics/*.txt
var topicTexts embed.FS

// topics are help pages that are no verbs.
func topics() []*cobra.Command {
	var out []*cobra.Command
	for _, t := range []struct{ name, short string }{
		{"exit-codes", "What the exit codes mean"},
		{"file", "The shop file: every section and every key"},
		{"limits", "What is not modelled, and what a redesign cannot do"},
		{"method", "How a redesign is decided"},
		{"readings", "The notebook of readings"},
		{"units", "Which units are read and printed"},
	} {
		text, err := topicTexts.ReadFile("topics/" + t.name + ".txt")
		if err != nil {
			panic(err) // it is embedded
		}
		long := string(text)
		if t.name == "file" {
			for line := range strings.Lines(string(shopfile.Reference())) {
				long += "  " + line
			}
		}
		out = append(out, &cobra.Command{Use: t.name, Short: t.short, Long: strings.TrimRight(long, "\n")})
	}
	return out
}

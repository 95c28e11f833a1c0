package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wyewright/cmd/internal/project"
	"wyewright/network/units"
)

// completer offers words for what is being typed: the shop is that of the FILE
// on the command line, nil where none can be read.
type completer func(p *project.Project, typed string) []string

// shopFlags are the flags, of any verb, that take a name of the shop.
var shopFlags = map[string]completer{
	"state":     func(p *project.Project, _ string) []string { return stateWords(p) },
	"tool":      func(p *project.Project, _ string) []string { return toolWords(p) },
	"run":       func(p *project.Project, _ string) []string { return runNames(p) },
	"collector": func(p *project.Project, _ string) []string { return collectorWords(p) },
	"open":      oneMore(openWords),
	"set":       setWords,
	"trunk":     oneMore(rigidSizes),
	"family":    oneMore(rigidFamilies),
	"runs":      oneMore(runNames),
	// Of one verb alone.
	"compare --collector": oneMore(collectorWords),
}

// wordFlags are the flags that take one of a few words, or for which a few are
// offered to be changed.
var wordFlags = map[string][]string{
	"units":        {"us", "si"},
	"format":       billFormats,
	"meter":        {usualMeter, "1 m/s to 20 m/s", "0.4 m/s to 40 m/s", "200 fpm to 5900 fpm"},
	"confidence":   {"80%", "90%", "95%"},
	"alternatives": {"2%", "4%", "10%"},
	"interest":     {"2%", "3%", "5%"},
	"kerf":         {"2 mm", "3 mm", "0 mm"},
}

// noneWord is the state of a form in which all gates are shut.
const noneWord = "none\tall gates shut"

// fileFlags are the flags that take a file, with the endings it may have, or a
// folder where there are none.
var fileFlags = map[string][]string{
	"plan":           {"json"},
	"shop":           {"yaml"},
	"plot --out":     {"svg", "png"},
	"redesign --out": nil,
	"compare --out":  nil,
	"stages --out":   nil,
	"report --out":   {"html"},
}

// freeFlags take what cannot be foreseen: a number, a time, a sum, a new name.
// A flag is in one of these lists: a test sees to it.
var freeFlags = map[string]bool{"out": true, "draws": true, "rows": true, "time": true, "front": true, "front-time": true, "budget": true, "what-if": true,
	"alternatives-time": true, "conflict-time": true, "energy": true, "years": true, "hours": true, "power-front": true, "power-time": true,
	"stages": true, "stage": true, "budgets": true, "count": true, "order-time": true, "date": true}

// addCompletion gives every verb and flag its completion.
func addCompletion(root *cobra.Command) {
	for _, c := range append(root.Commands(), root) {
		completeArgs(c)
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { completeFlag(c, f) })
	}
}

// completeFlag registers the completion of a flag. It has none yet, so that
// nothing can fail.
func completeFlag(c *cobra.Command, f *pflag.Flag) {
	own := c.Name() + " --" + f.Name
	name, ok := shopFlags[own]
	if !ok {
		name = shopFlags[f.Name]
	}
	if own == "sheet --state" {
		_ = c.RegisterFlagCompletionFunc(f.Name, ofShop(func(p *project.Project, _ string) []string { return append(stateWords(p), noneWord) }))
	} else if ends, ok := fileFlags[own]; ok {
		_ = c.RegisterFlagCompletionFunc(f.Name, files(ends))
	} else if ends, ok := fileFlags[f.Name]; ok {
		_ = c.RegisterFlagCompletionFunc(f.Name, files(ends))
	} else if words, ok := wordFlags[f.Name]; ok && f.Value.Type() != "bool" {
		_ = c.RegisterFlagCompletionFunc(f.Name, few(words))
	} else if name != nil {
		_ = c.RegisterFlagCompletionFunc(f.Name, ofShop(name))
	} else if freeFlags[f.Name] && f.Name != "out" {
		_ = c.RegisterFlagCompletionFunc(f.Name, cobra.NoFileCompletions)
	}
}

// files offers files of those endings and folders, or folders alone.
func files(ends []string) cobra.CompletionFunc {
	if len(ends) == 0 {
		return cobra.FixedCompletions(nil, cobra.ShellCompDirectiveFilterDirs)
	}
	return cobra.FixedCompletions(ends, cobra.ShellCompDirectiveFilterFileExt)
}

// ofShop offers words of the shop file that stands on the command line; none,
// and no complaint, where it cannot be read.
func ofShop(words completer) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		p, err := load(args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		how := cobra.ShellCompDirectiveNoFileComp
		out := begun(words(p, typed), typed)
		for _, w := range out {
			if word, _, _ := strings.Cut(w, "\t"); strings.HasSuffix(word, ".") || strings.HasSuffix(word, "=") {
				how |= cobra.ShellCompDirectiveNoSpace
			}
		}
		return out, how
	}
}

// few offers one of a few words.
func few(words []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return begun(words, typed), cobra.ShellCompDirectiveNoFileComp
	}
}

// begun are the words that begin with what is typed.
func begun(words []string, typed string) []string {
	var out []string
	for _, w := range words {
		if strings.HasPrefix(w, typed) {
			out = append(out, w)
		}
	}
	return out
}

// completeArgs registers the completion of a verb's arguments, as its line of
// use names them.
func completeArgs(c *cobra.Command) {
	_, args, _ := strings.Cut(c.Use, " ")
	switch {
	case c.ValidArgsFunction != nil || len(c.ValidArgs) > 0 && args != "FILE KIND":
	case args == "FILE KIND":
		kinds := c.ValidArgs
		c.ValidArgs = nil
		c.ValidArgsFunction = inTurn(files([]string{"yaml", "yml"}), few(kinds))
	case args == "FOLDER":
		c.ValidArgsFunction = inTurn(files(nil))
	case strings.HasPrefix(args, "FILE"):
		c.ValidArgsFunction = inTurn(files([]string{"yaml", "yml"}))
	case args == "[FILE]": // a new one
		c.ValidArgsFunction = inTurn(files(nil))
	case args == "":
		c.ValidArgsFunction = cobra.NoFileCompletions
	}
}

// inTurn offers what belongs to the argument that is being typed.
func inTurn(each ...cobra.CompletionFunc) cobra.CompletionFunc {
	return func(c *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) >= len(each) {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return each[len(args)](c, args, typed)
	}
}

// newCompletion prints the script that makes a shell complete.
func newCompletion(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash|zsh|fish|powershell",
		Short: "Print the script that lets your shell complete verbs, files and names of your shop",
		Long: `completion prints a script for your shell. With it the Tab key completes verbs, flags and
shop files, and, from the FILE on the line, its states, tools, runs, collectors and sizes.

bash (with the package bash-completion), for every new shell:
  mkdir -p ~/.local/share/bash-completion/completions
  wyewright completion bash > ~/.local/share/bash-completion/completions/wyewright
zsh, for every new shell; once, if it is not there yet, also "autoload -U compinit; compinit" in ~/.zshrc:
  mkdir -p ~/.zfunc && wyewright completion zsh > ~/.zfunc/_wyewright
  and in ~/.zshrc, above compinit: fpath=(~/.zfunc $fpath)
fish:
  wyewright completion fish > ~/.config/fish/completions/wyewright.fish
PowerShell, for this window:
  wyewright completion powershell | Out-String | Invoke-Expression
For one bash only: source <(wyewright completion bash)

Names with spaces are completed too, begun with a quote or without: --state saw<Tab>,
--set 'main 2.size=<Tab>.`,
		Args:      takes(1, 1),
		ValidArgs: shells,
		RunE: func(c *cobra.Command, args []string) error {
			switch root := c.Root(); args[0] {
			case "bash":
				return bashCompletion(root, a.Out)
			case "zsh":
				return root.GenZshCompletion(a.Out)
			case "fish":
				return root.GenFishCompletion(a.Out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(a.Out)
			}
			return fail(Usage, fmt.Errorf("no completion for %q", args[0]), "known are: "+strings.Join(shells, ", "))
		},
	}
}

// shells are those that can be completed for.
var shells = []string{"bash", "zsh", "fish", "powershell"}

// helpWords are the verbs and topics that help explains.
func helpWords(c *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var out []cobra.Completion
	for _, v := range c.Root().Commands() {
		if !v.Hidden && len(args) == 0 && v.Name() != "help" {
			out = append(out, v.Name()+"\t"+v.Short)
		}
	}
	return begun(out, typed), cobra.ShellCompDirectiveNoFileComp
}

// flowText is a flow in the units of the file.
func flowText(f units.Flow, p *project.Project) string { return f.Text(p.File.Units) }

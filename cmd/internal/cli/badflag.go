package cli

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wyewright/network/shopfile"
)

// badFlag turns a complaint about a flag into wrong usage, in words, with what to
// write instead.
func badFlag(c *cobra.Command, err error) error {
	see := fmt.Sprintf("see %s --help", c.CommandPath())
	var value *pflag.InvalidValueError
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	switch {
	case errors.As(err, &value):
		f := value.GetFlag()
		return fail(Usage, fmt.Errorf("--%s %q: not %s", f.Name, value.GetValue(), valueKind(f)), valueHint(f, value.GetValue())+see)
	case errors.As(err, &bare):
		f := bare.GetFlag()
		return fail(Usage, fmt.Errorf("--%s needs %s", f.Name, valueKind(f)), valueHint(f, "")+see)
	case errors.As(err, &unknown) && len(unknown.GetSpecifiedShortnames()) == 0:
		if near := nearFlag(c, unknown.GetSpecifiedName()); near != "" {
			return fail(Usage, err, fmt.Sprintf("did you mean --%s? %s", near, see))
		}
	}
	return fail(Usage, err, see)
}

// valueKind says what a flag takes.
func valueKind(f *pflag.Flag) string {
	switch f.Value.Type() {
	case "duration":
		return "a time with its unit"
	case "int":
		return "a whole number"
	case "bool":
		return "true or false"
	}
	name, _ := pflag.UnquoteUsage(f)
	if strings.HasSuffix(name, "s") {
		return name
	}
	return "a " + name
}

// valueHint says what to write for what was typed, with a semicolon behind it.
func valueHint(f *pflag.Flag, typed string) string {
	switch f.Value.Type() {
	case "duration":
		if d, err := time.ParseDuration(typed + "s"); err == nil && d >= time.Second {
			return fmt.Sprintf("give %ss or %s; ", typed, plainTime(d))
		}
		return "give 60s or 1m; "
	case "int":
		like := f.DefValue
		if like == "0" {
			like = "3"
		}
		return fmt.Sprintf("give a number such as --%s %s; ", f.Name, like)
	}
	return ""
}

// plainTime writes a time without parts that are nothing; of less than a minute it
// gives what the same number of minutes is.
func plainTime(d time.Duration) string {
	if d < time.Minute {
		return fmt.Sprintf("%gm for minutes", d.Seconds())
	}
	return strings.NewReplacer("h0m0s", "h", "m0s", "m").Replace(d.String())
}

// nearFlag is the flag that was meant, "" where none is near.
func nearFlag(c *cobra.Command, name string) string {
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	return shopfile.Nearest(name, known)
}

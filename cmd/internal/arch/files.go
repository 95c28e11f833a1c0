package arch

import (
	"bytes"
	"fmt"
	"go/ast"
	"regexp"
	"slices"
	"strings"
)

// longest is the number of lines a Go file may have. Tables of data are CSV
// files and may be longer.
const longest = 500

// foreign are words of places outside the repository, which mean nothing to
// its readers. They are split here so that this file does not hold them.
var foreign = []string{
	"sha" + "red/", "/work" + "/", "/tmp" + "/brief",
	"design" + ".md", "physics" + ".md", "scenarios" + ".md", "search" + ".md", "style" + ".md", "trade" + ".md",
}

// numbered is a reference to a numbered note of such a place.
var numbered = regexp.MustCompile(`(?i)\bissues? (no\. ?|#)?[0-9]|\b(close|fixe?)[sd]? #[0-9]`)

// foreignIn returns the first foreign word of a text, "" where there is none
// or where the file is no text.
func foreignIn(data []byte) string {
	if bytes.IndexByte(data, 0) >= 0 {
		return ""
	}
	for _, w := range foreign {
		if bytes.Contains(data, []byte(w)) {
			return w
		}
	}
	return string(numbered.Find(data))
}

// tooLong returns what is wrong with the length of a Go file.
func tooLong(data []byte) string {
	if n := bytes.Count(data, []byte("\n")); n > longest {
		return fmt.Sprintf("%d lines, more than %d: part it by ideas", n, longest)
	}
	return ""
}

// commented reports whether a file explains its package, in the form that
// go doc expects.
func commented(f *ast.File) bool {
	if f.Doc == nil {
		return false
	}
	text := f.Doc.Text()
	return strings.HasPrefix(text, "Package "+f.Name.Name+" ") || f.Name.Name == "main" && strings.HasPrefix(text, "Command ")
}

// modules lists the modules that a go.mod file requires, sorted.
func modules(gomod []byte) []string {
	var out []string
	for line := range strings.Lines(string(gomod)) {
		words := strings.Fields(strings.TrimPrefix(strings.TrimSpace(line), "require "))
		if len(words) >= 2 && strings.Contains(words[0], ".") && strings.HasPrefix(words[1], "v") {
			out = append(out, words[0])
		}
	}
	slices.Sort(out)
	return out
}

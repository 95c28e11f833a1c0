package shopfile

import "fmt"

// kind says what a node of the file is.
type kind uint8

const (
	empty kind = iota // nothing after the colon
	scalar
	mapping
	sequence
)

// node is one value of the file with the place it was written at. Lines and
// columns count from 1, columns in characters. The end is the place after the
// last character.
type node struct {
	kind            kind
	path            string // "runs.main 2.pieces[0].size"
	label           string // last part of the path
	text            string // of a scalar
	quoted          bool   // the scalar stood in quotes
	flow            bool   // written in brackets or braces
	lone            bool   // a pair without braces inside a list
	refused         bool   // a fault was reported already
	line, col       int
	endLine, endCol int
	entries         []entry
	items           []*node
	note            string // what a table says beside it
	in              *sheet // the table it stands in; nil for the shop file itself
}

// where says in which line a node stands, and of which file where it is a table.
func (n *node) where() string {
	if n.in != nil {
		return fmt.Sprintf("line %d of %s", n.line, n.in.name)
	}
	return fmt.Sprintf("line %d", n.line)
}

// entry is one key of a mapping with its value, in file order.
type entry struct{ key, value *node }

// cover moves the end of a mapping or sequence behind its last part.
func (n *node) cover() {
	reach := func(c *node) {
		if c.endLine > n.endLine || c.endLine == n.endLine && c.endCol > n.endCol {
			n.endLine, n.endCol = c.endLine, c.endCol
		}
	}
	for _, e := range n.entries {
		reach(e.value)
	}
	for _, item := range n.items {
		reach(item)
	}
}

// child returns the first value under the key, or nil.
func (n *node) child(key string) *node {
	if n == nil {
		return nil
	}
	for _, e := range n.entries {
		if e.key.text == key {
			return e.value
		}
	}
	return nil
}

// kindName says in plain words what the node is.
func (n *node) kindName() string {
	switch n.kind {
	case scalar:
		return fmt.Sprintf("the text %q", n.text)
	case mapping:
		return "a set of keys"
	case sequence:
		return "a list"
	}
	return "nothing"
}

func dotted(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func indexed(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

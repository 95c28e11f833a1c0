package shopfile

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// parse turns YAML into the package's own tree. It reports syntax faults and
// the parts of YAML that a shop file does not use; a nil node means that
// there is nothing to walk.
func (d *decoder) parse(src string) *node {
	file, err := parser.ParseBytes([]byte(src), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		d.syntax(err)
		return nil
	}
	var root *node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if root != nil {
			d.fault(d.grow(doc.Body, ""), "write one document, without a line of three dashes in the middle",
				"a second document in the same file")
			break
		}
		root = d.grow(doc.Body, "")
	}
	if root == nil || root.kind == empty {
		d.faultAt(1, 1, "", "start from the file that the verb new writes", "the file is empty")
		return nil
	}
	return root
}

// syntax reports what the YAML parser could not read.
func (d *decoder) syntax(err error) {
	line, column, msg := 1, 1, err.Error()
	var se yaml.Error
	if errors.As(err, &se) {
		msg = se.GetMessage()
		if t := se.GetToken(); t != nil && t.Position != nil {
			line, column = t.Position.Line, t.Position.Column
		}
	}
	hint := ""
	switch {
	case strings.Contains(msg, "invalid header option"):
		hint = `put a value that starts with > or | in quotes: ">30 m/s"`
	case strings.Contains(msg, "directive"):
		hint = "put a value that starts with % in quotes"
	case strings.Contains(msg, "not found") || strings.Contains(msg, "must be specified"):
		hint = "a bracket is not closed, or a comma is missing; put text that holds brackets in quotes"
	default:
		hint = "check brackets, commas and indentation here and above; put text that holds a colon in quotes"
	}
	d.faultAt(line, column, "", hint, "not valid YAML: %s", firstLine(msg))
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

// grow copies a part of the syntax tree.
func (d *decoder) grow(n ast.Node, path string) *node {
	out := &node{path: path}
	if t := n.GetToken(); t != nil && t.Position != nil {
		out.line, out.col = t.Position.Line, t.Position.Column
	}
	out.endLine, out.endCol = out.line, out.col
	switch v := n.(type) {
	case *ast.MappingNode:
		out.kind, out.flow = mapping, v.IsFlowStyle
		d.growEntries(out, v.Values, path)
		out.end(v.End)
	case *ast.MappingValueNode:
		// A lone pair inside a list: [resize, companions: 1].
		out.kind, out.lone = mapping, true
		d.growEntries(out, []*ast.MappingValueNode{v}, path)
		out.end(nil)
	case *ast.SequenceNode:
		out.kind, out.flow = sequence, v.IsFlowStyle
		for i, item := range v.Values {
			child := d.grow(item, indexed(path, i))
			child.label = fmt.Sprintf("item %d", i+1)
			out.items = append(out.items, child)
		}
		out.end(v.End)
	case *ast.NullNode:
		out.kind = empty
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		d.growScalar(out, n)
	case *ast.CommentGroupNode:
		out.kind = empty
	default:
		out.kind = empty
		out.refused = true
		d.fault(out, "write the value out in full, on one line",
			"anchors, aliases, tags and blocks of text are not used in a shop file")
	}
	return out
}

// end sets the end of a mapping or sequence: its closing bracket, or the end
// of its last part.
func (n *node) end(bracket *token.Token) {
	if n.flow && bracket != nil && bracket.Position != nil {
		n.endLine, n.endCol = bracket.Position.Line, bracket.Position.Column+1
		return
	}
	n.cover()
}

func (d *decoder) growEntries(out *node, values []*ast.MappingValueNode, path string) {
	for i, v := range values {
		kt := v.Key.GetToken()
		key := &node{kind: scalar, text: kt.Value, line: kt.Position.Line, col: kt.Position.Column, path: dotted(path, kt.Value)}
		if i == 0 && !out.flow {
			// A block mapping starts at its first key, not at the colon.
			out.line, out.col = key.line, key.col
		}
		switch v.Key.(type) {
		case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode:
		default:
			d.fault(key, "use plain text as the key", "a key of this kind is not used in a shop file")
			continue
		}
		value := d.grow(v.Value, key.path)
		key.label, value.label = key.text, key.text
		if value.kind == empty && !value.refused {
			value.line, value.col = key.line, key.col
		}
		out.entries = append(out.entries, entry{key: key, value: value})
	}
}

func (d *decoder) growScalar(out *node, n ast.Node) {
	t := n.GetToken()
	out.kind, out.text = scalar, t.Value
	switch t.Type {
	case token.SingleQuoteType, token.DoubleQuoteType:
		out.quoted = true
	}
	end, ok := d.scalarEnd(out)
	if !ok {
		d.fault(out, "write it on one line", "text that goes over several lines is not used in a shop file")
	}
	out.endLine, out.endCol = out.line, end
}

// scalarEnd finds the column after the last character of a one-line scalar.
func (d *decoder) scalarEnd(n *node) (int, bool) {
	rest := []rune(d.lineText(n.line))
	if n.col-1 > len(rest) {
		return n.col, false
	}
	rest = rest[n.col-1:]
	if !n.quoted {
		text := []rune(n.text)
		if len(text) > len(rest) || string(rest[:len(text)]) != n.text {
			return n.col, false
		}
		return n.col + len(text), true
	}
	for i := 1; i < len(rest); i++ {
		switch {
		case rest[i] == '\\' && rest[0] == '"':
			i++
		case rest[i] == rest[0] && rest[0] == '\'' && i+1 < len(rest) && rest[i+1] == '\'':
			i++
		case rest[i] == rest[0]:
			return n.col + i + 1, true
		}
	}
	return n.col, false
}

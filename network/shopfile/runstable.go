package shopfile

import (
	"slices"
	"strings"

	"wyewright/network/units"
)

func isLength(s string) error { _, err := units.ParseLength(s); return err }

func isArea(s string) error { _, err := units.ParseArea(s); return err }

// runColumns are the columns of a table of runs. The keys are those of a run and
// of its pieces in the shop file; k is what a piece loses on top.
var runColumns = []column{
	{key: "run", needed: true}, {key: "from", needed: true}, {key: "to", needed: true},
	{key: "size", quantity: isLength}, {key: "family"}, {key: "length", quantity: isLength}, {key: "via"},
	{key: "k bends", number: true}, {key: "k junction", number: true}, {key: "k steps", number: true}, {key: "k", number: true},
	{key: "main"}, {key: "gate"}, {key: "gate open", number: true}, {key: "gate leak", quantity: isArea}, {key: "elbows"}, {key: "leak class"},
	{key: "diameter", quantity: isLength}, {key: "roughness", quantity: isLength}, {key: "multiple", number: true}, {key: "note"},
}

// firstOnly are the columns of the run as a whole: they stand in its first row.
var firstOnly = []string{"from", "to", "via", "k bends", "k junction", "k steps", "main", "gate", "gate open", "gate leak", "elbows", "leak class"}

// runsTable reads the runs from the table that the shop file names, as if they
// stood there: a row is a run of one piece; rows that follow each other with the
// same name are the pieces of one run in the order of the air, each with its own
// size, family and length. It returns nil where nothing can be said of the runs.
func (d *decoder) runsTable(n *node) *node {
	d.file.RunsPath = n.text
	t := &table{d: d, what: "runs", columns: runColumns}
	rows, ok := t.open(n)
	if !ok {
		return nil
	}
	if !slices.Contains(t.heads, "size") && !slices.Contains(t.heads, "diameter") {
		d.fault(t.node(1, 1), "add a column with the sizes: size mm, or size in", "column %q is missing", "size")
		return nil
	}
	if !slices.Contains(t.heads, "family") && d.file.defaults.family == "" {
		d.fault(t.node(1, 1), "add the column, or say once in the shop file: defaults: {family: dust spiral}", "column %q is missing", "family")
		return nil
	}
	out := &node{kind: mapping, label: "runs", path: "runs", line: 1, col: 1, in: t.in}
	seen := map[string]*node{}
	for i := 0; i < len(rows); {
		first, same := rows[i].cells["run"], i+1
		if first == nil {
			d.fault(rows[i].at, "write its name; the pieces of one run have the same name, in rows that follow each other", "a row without the name of its run")
			i++
			continue
		}
		for same < len(rows) && rows[same].cells["run"] != nil && rows[same].cells["run"].text == first.text {
			same++
		}
		if before := seen[first.text]; before != nil {
			d.fault(first, "the rows of one run follow each other; give another run another name", "run %q has rows already, in %s", first.text, before.where())
			d.partial = true
		} else {
			out.entries = append(out.entries, entry{first, t.run(rows[i:same])})
		}
		seen[first.text] = first
		i = same
	}
	if len(out.entries) == 0 && len(d.faults) == 0 {
		d.fault(t.node(1, 1), "write one row for each duct below the names of the columns", "no runs: the table has no rows")
		return nil
	}
	d.file.tables = append(d.file.tables, inlined{n, out, d.file.root.flow})
	return out
}

// run makes the keys of one run of its rows.
func (t *table) run(rows []row) *node {
	head, last := rows[0].cells, rows[len(rows)-1].at
	out := &node{kind: mapping, label: head["run"].text, path: "runs." + head["run"].text, line: rows[0].at.line, col: 1, endLine: last.line, in: t.in}
	for _, key := range []string{"from", "to"} {
		out.add(head[key])
	}
	if n := head["via"]; n != nil {
		out.add(corners(n))
	}
	out.add(t.group("k", head, map[string]string{"k bends": "bends", "k junction": "junction", "k steps": "steps"}))
	gate := t.group("gate", head, map[string]string{"gate open": "open", "gate leak": "leak"})
	switch n := head["gate"]; {
	case gate != nil && n != nil && strings.EqualFold(n.text, "no"):
		t.d.fault(n, "write yes, or empty the cells beside it", "gate %q: but its loss or leakage is given", n.text)
	case gate != nil:
		out.add(gate)
	default:
		out.add(lower(n))
	}
	out.note = t.notes(rows)
	out.add(lower(head["main"]))
	out.add(lower(head["elbows"]))
	out.add(head["leak class"])
	if len(rows) == 1 && head["k"] == nil {
		t.piece(out, head)
		return out
	}
	list := &node{kind: sequence, label: "pieces", path: out.path + ".pieces", line: out.line, col: 1, endLine: last.line, in: t.in}
	for i := range rows {
		t.repeated(rows[0].cells, rows[i].cells)
		p := &node{kind: mapping, label: "piece", path: indexed(list.path, i), line: rows[i].at.line, col: rows[i].at.col, endLine: rows[i].at.line, in: t.in}
		t.piece(p, rows[i].cells)
		p.add(rows[i].cells["k"])
		list.items = append(list.items, p)
	}
	out.add(list)
	return out
}

// notes are what the column of that name says of a run.
func (t *table) notes(rows []row) string {
	var out []string
	for _, r := range rows {
		if n := r.cells["note"]; n != nil {
			out = append(out, n.text)
		}
	}
	return strings.Join(out, "; ")
}

// piece adds the keys of a piece.
func (t *table) piece(out *node, cells map[string]*node) {
	for _, key := range []string{"size", "diameter", "family", "length", "roughness", "multiple"} {
		out.add(cells[key])
	}
}

// repeated reports what a later row of a run says otherwise than its first.
func (t *table) repeated(first, cells map[string]*node) {
	for _, key := range firstOnly {
		if n := cells[key]; n != nil && (first[key] == nil || first[key].text != n.text) {
			t.d.fault(n, "it belongs to the run as a whole: write it in the first of its rows; another run needs another name", "%s %q: the first row of run %q does not say so", key, n.text, cells["run"].text)
		}
	}
}

// group makes one key of several columns; nil where all their cells are empty.
func (t *table) group(key string, cells map[string]*node, as map[string]string) *node {
	var out *node
	for _, c := range runColumns {
		n := cells[c.key]
		if n == nil || as[c.key] == "" {
			continue
		}
		if out == nil {
			out = &node{kind: mapping, label: key, path: "runs." + key, line: n.line, col: n.col, endLine: n.line, in: t.in}
		}
		own := *n
		own.label = as[c.key]
		out.add(&own)
	}
	return out
}

// add puts a value under the key of its label; nothing for nil.
func (n *node) add(value *node) {
	if value == nil {
		return
	}
	key := *value
	key.kind, key.text, key.items, key.entries = scalar, value.label, nil, nil
	n.entries = append(n.entries, entry{&key, value})
}

// lower is a cell in small letters: spreadsheets write TRUE.
func lower(n *node) *node {
	if n == nil {
		return nil
	}
	out := *n
	out.text = strings.ToLower(n.text)
	return &out
}

// corners makes a list of a cell: names of points divided by commas or
// semicolons, and places in brackets, whose numbers are divided by semicolons
// where they have decimal commas.
func corners(n *node) *node {
	out := *n
	out.kind, out.text = sequence, ""
	rest, at := n.text, n.col
	take := func(text string, col int) *node {
		item := *n
		item.text, item.label = strings.TrimSpace(text), "corner"
		item.col = col + len([]rune(text)) - len([]rune(strings.TrimLeft(text, " ")))
		return &item
	}
	for rest != "" {
		end := strings.IndexAny(rest, ",;")
		if open := strings.Index(rest, "["); open >= 0 && (end < 0 || open < end) {
			if shut := strings.Index(rest, "]"); shut > open {
				place := take(rest[:shut+1], at)
				inside, mark := rest[open+1:shut], ","
				place.kind, place.text = sequence, ""
				if strings.Contains(inside, ";") {
					inside, mark = strings.ReplaceAll(inside, ",", "."), ";"
				}
				for part := range strings.SplitSeq(inside, mark) {
					place.items = append(place.items, take(part, at+open+1))
				}
				out.items = append(out.items, place)
				at, rest = at+shut+1, rest[shut+1:]
				if skip := strings.IndexAny(rest, ",;"); skip >= 0 && strings.TrimSpace(rest[:skip]) == "" {
					at, rest = at+skip+1, rest[skip+1:]
				}
				continue
			}
		}
		if end < 0 {
			end = len(rest)
		}
		if text := rest[:end]; strings.TrimSpace(text) != "" {
			out.items = append(out.items, take(text, at))
		}
		at, rest = at+end+1, rest[min(len(rest), end+1):]
	}
	return &out
}

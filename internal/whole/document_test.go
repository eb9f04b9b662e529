package whole

import (
	"encoding/json"
	"strings"
)

// node is a table of a description, or a key with its value.
type node struct {
	key    string
	text   string // value as TOML; of a table nothing
	plain  string // a value that is likely to do
	table  bool
	many   bool // one of a list of tables
	inline bool // in braces
	kids   []*node
}

// quoted is a text as a TOML string.
func quoted(text string) string {
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(text); err != nil {
		panic(err) // of a string never
	}
	return strings.ReplaceAll(strings.TrimSuffix(b.String(), "\n"), "\x7f", `\u007f`)
}

// printed is a description with the node that stands on each line.
type printed struct {
	text  strings.Builder
	lines []place // line 1 first
}

// place is a node and the table that holds it.
type place struct{ parent, node *node }

func (p *printed) line(text string, at place) {
	p.text.WriteString(text + "\n")
	for range 1 + strings.Count(text, "\n") {
		p.lines = append(p.lines, at)
	}
}

// write prints a table: its values, then the tables in it, as headers want it.
func (p *printed) write(n *node, path string) {
	for _, k := range n.kids {
		if !k.table {
			p.line(k.key+" = "+k.text, place{n, k})
		}
	}
	for i, k := range n.kids {
		switch {
		case !k.table:
		case k.inline && k.many:
			// The entries that follow each other under one key are one array.
			if i > 0 && n.kids[i-1].key == k.key && n.kids[i-1].inline {
				continue
			}
			var all []string
			for _, same := range n.kids[i:] {
				if same.key != k.key {
					break
				}
				all = append(all, same.braces())
			}
			p.line(k.key+" = ["+strings.Join(all, ", ")+"]", place{n, k})
		case k.inline:
			p.line(k.key+" = "+k.braces(), place{n, k})
		}
	}
	for _, k := range n.kids {
		if !k.table || k.inline {
			continue
		}
		if k.many {
			p.line("[["+path+k.key+"]]", place{n, k})
		} else {
			p.line("["+path+k.key+"]", place{n, k})
		}
		p.write(k, path+k.key+".")
	}
}

// braces is a table on one line.
func (n *node) braces() string {
	var all []string
	lists := map[string]bool{}
	for _, k := range n.kids {
		switch {
		case !k.table:
			all = append(all, k.key+" = "+k.text)
		case !k.many:
			all = append(all, k.key+" = "+k.braces())
		case !lists[k.key]:
			lists[k.key] = true
			var list []string
			for _, same := range n.kids {
				if same.key == k.key {
					list = append(list, same.braces())
				}
			}
			all = append(all, k.key+" = ["+strings.Join(list, ", ")+"]")
		}
	}
	return "{ " + strings.Join(all, ", ") + " }"
}

func (n *node) print() *printed {
	p := &printed{}
	p.write(n, "")
	return p
}

// mend gives what is blamed on a line its plain value, or takes it away when it has that already,
// and reports whether anything was done.
func (p *printed) mend(line int) bool {
	if line < 1 || line > len(p.lines) {
		return false
	}
	at := p.lines[line-1]
	if !at.node.table && at.node.text != at.node.plain {
		at.node.text = at.node.plain
		return true
	}
	if at.node.key == "site" && len(at.node.kids) != 1 {
		const gust = `"8 m/s"` // the one value that every file has
		at.node.kids = []*node{{key: "gust_alone", text: gust, plain: gust}}
		return true
	}
	for i, k := range at.parent.kids {
		if k == at.node {
			at.parent.kids = append(at.parent.kids[:i:i], at.parent.kids[i+1:]...)
			return true
		}
	}
	return false // taken away before, with its table
}

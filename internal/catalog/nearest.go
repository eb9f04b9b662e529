package catalog

import (
	"slices"
	"strings"
	"unicode"
)

const (
	maxEdits   = 3  // more edits than this are another word, not a slip
	maxNearest = 3  // names offered in one message
	maxCompare = 80 // runes; longer names are not compared letter by letter
)

// Nearest returns at most three of names that a person who typed name may have
// meant, likeliest first: names within three edits (and fewer edits than half
// the longer name), then names that share a word. Case, spacing and the sign
// between dimensions do not count. The order of names breaks ties.
func Nearest(name string, names []string) []string {
	type candidate struct {
		name          string
		edits, shared int
	}
	asked := Fold(name)
	askedWords := words(asked)
	var found []candidate
	for _, n := range names {
		folded := Fold(n)
		c := candidate{name: n, edits: edits(asked, folded)}
		for _, w := range words(folded) {
			if slices.Contains(askedWords, w) {
				c.shared++
			}
		}
		if 2*c.edits >= max(len(asked), len(folded)) && c.edits > 0 {
			c.edits = maxEdits + 1
		}
		if c.edits <= maxEdits || c.shared > 0 {
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b candidate) int {
		if a.edits != b.edits {
			return a.edits - b.edits
		}
		return b.shared - a.shared
	})
	nearest := make([]string, 0, maxNearest)
	for _, c := range found {
		if len(nearest) < maxNearest && !slices.Contains(nearest, c.name) {
			nearest = append(nearest, c.name)
		}
	}
	return nearest
}

// Fold returns a name as it is compared: lower case, single spaces, `x` for
// `×` and no space around an x between dimensions, so that `2 X 4` is `2x4`.
// Underscores count as spaces.
func Fold(name string) string {
	name = strings.NewReplacer("×", "x", "_", " ", "²", "2").Replace(strings.ToLower(name))
	fields := strings.Fields(name)
	var b strings.Builder
	for i, f := range fields {
		if i > 0 && !joinsDimensions(fields, i) {
			b.WriteByte(' ')
		}
		b.WriteString(f)
	}
	return b.String()
}

// joinsDimensions reports whether the space before fields[i] stands beside a
// lone x between two numbers.
func joinsDimensions(fields []string, i int) bool {
	lone := func(j int) bool {
		return j > 0 && j+1 < len(fields) && fields[j] == "x" && endsInDigit(fields[j-1]) && startsWithDigit(fields[j+1])
	}
	return lone(i) || lone(i-1)
}

func endsInDigit(s string) bool     { return s != "" && '0' <= s[len(s)-1] && s[len(s)-1] <= '9' }
func startsWithDigit(s string) bool { return s != "" && '0' <= s[0] && s[0] <= '9' }

// words returns the parts of a folded name that tell one row from another:
// those of three letters or more, which leaves out units.
func words(folded string) []string {
	all := strings.FieldsFunc(folded, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return slices.DeleteFunc(all, func(w string) bool { return len(w) < 3 })
}

// edits returns the least number of insertions, deletions, replacements and
// swaps of neighbours that turn a into b (optimal string alignment), or
// maxEdits+1 when it is more than maxEdits.
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > maxCompare || len(t) > maxCompare {
		return maxEdits + 1
	}
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row[0] = i
		for j := 1; j <= len(t); j++ {
			replace := last[j-1]
			if s[i-1] != t[j-1] {
				replace++
			}
			row[j] = min(last[j]+1, row[j-1]+1, replace)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(t)], maxEdits+1)
}

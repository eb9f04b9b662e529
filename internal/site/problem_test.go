package site

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestProblemsWrite(t *testing.T) {
	at := func(line, col int) Place { return Place{"site.toml", line, col} }
	long := strings.Repeat("x", 200) + " here " + strings.Repeat("y", 200)
	tests := []struct {
		name string
		src  string
		p    Problem
		want string
	}{
		{"all parts", "# a\n  widht = \"30 in\"\n",
			Problem{Place: at(2, 3), start: 6, end: 11, Message: `column "west pier" has no key "widht"`, Want: "one of at, turn, foot",
				Hint: `did you mean "width"?`, Also: []Note{{at(1, 1), "the column begins here"}}},
			`site.toml:2:3: error: column "west pier" has no key "widht"
    2 |   widht = "30 in"
      |   ^^^^^
      expected: one of at, turn, foot
      note: site.toml:1:1: the column begins here
      hint: did you mean "width"?
`},
		{"warning", "a = 1\n", Problem{Place: at(1, 5), start: 4, end: 5, Message: "m", Warning: true},
			"site.toml:1:5: warning: m\n    1 | a = 1\n      |     ^\n"},
		{"tabs before and under", "\ta\t= \"\t\"\n", Problem{Place: at(1, 6), start: 5, end: 8, Message: "m"},
			"site.toml:1:6: error: m\n    1 | \ta\t= \" \"\n      | \t \t  ^^^\n"},
		{"runes", "½ä = x\n", Problem{Place: at(1, 6), start: 7, end: 8, Message: "m"},
			"site.toml:1:6: error: m\n    1 | ½ä = x\n      |      ^\n"},
		{"byte order mark", "\ufeffa = x\r\n", Problem{Place: at(1, 5), start: 7, end: 8, Message: "m"},
			"site.toml:1:5: error: m\n    1 | a = x\n      |     ^\n"},
		{"over the end of the line", "a = [\n1\n", Problem{Place: at(1, 5), start: 4, end: 7, Message: "m"},
			"site.toml:1:5: error: m\n    1 | a = [\n      |     ^\n"},
		{"at the end of the file", "a =", Problem{Place: at(1, 4), start: 3, end: 3, Message: "m"},
			"site.toml:1:4: error: m\n    1 | a =\n      |    ^\n"},
		{"long line", long, Problem{Place: at(1, 202), start: 201, end: 205, Message: "m"},
			"site.toml:1:202: error: m\n    1 | …" + strings.Repeat("x", 39) + " here " + strings.Repeat("y", 55) + "…\n      |  " +
				strings.Repeat(" ", 40) + "^^^^\n"},
		{"control characters", "a = \"\x1b[31m\u202e\" \xff z\n", Problem{Place: at(1, 17), start: 18, end: 19, Message: "a\x1b[0m\nb\u202e\xff"},
			`site.toml:1:17: error: a\x1b[0m\nb\u202e\xff` + "\n    1 | a = \"\\x1b[31m\\u202e\" \\xff z\n      | " + strings.Repeat(" ", 27) + "^\n"},
		{"control character marked", "a\x01b\n", Problem{Place: at(1, 2), start: 1, end: 2, Message: "m"},
			"site.toml:1:2: error: m\n    1 | a\\x01b\n      |  ^^^^\n"},
		{"no source", "", Problem{Place: at(3, 1), start: 8, end: 9, Message: "m", Hint: "h"},
			"site.toml:3:1: error: m\n      hint: h\n"},
		{"other source", "a\n", Problem{Place: at(30, 1), start: 800, end: 900, Message: "m"},
			"site.toml:30:1: error: m\n"},
		{"no place", "a\n", Problem{Message: "m"}, "error: m\n"},
		{"file only", "a\n", Problem{Place: Place{File: "a.toml"}, Message: "m"}, "a.toml: error: m\n"},
		{"line 100000", strings.Repeat("\n", 99999) + "x\n", Problem{Place: at(100000, 1), start: 99999, end: 100000, Message: "m", Hint: "h"},
			"site.toml:100000:1: error: m\n100000 | x\n       | ^\n       hint: h\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var b strings.Builder
			if err := (Problems{tt.p}).Write(&b, []byte(tt.src), false); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, b.String()); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

func TestProblemsWriteColor(t *testing.T) {
	var b strings.Builder
	p := Problem{Place: Place{"s", 1, 1}, end: 1, Message: "m"}
	w := p
	w.Warning = true
	if err := (Problems{p, w}).Write(&b, []byte("a\n"), true); err != nil {
		t.Fatal(err)
	}
	want := "\x1b[1ms:1:1:\x1b[0m \x1b[1;31merror:\x1b[0m m\n    1 | a\n      | \x1b[1;31m^\x1b[0m\n" +
		"\x1b[1ms:1:1:\x1b[0m \x1b[1;33mwarning:\x1b[0m m\n    1 | a\n      | \x1b[1;33m^\x1b[0m\n"
	if b.String() != want {
		t.Errorf("got  %q\nwant %q", b.String(), want)
	}
}

func TestProblemsWriteMany(t *testing.T) {
	var b strings.Builder
	if err := make(Problems, mostPrinted+23).Write(&b, nil, false); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(b.String(), "error: "); got != mostPrinted {
		t.Errorf("%d problems printed, want %d", got, mostPrinted)
	}
	if !strings.HasSuffix(b.String(), "\nand 23 more\n") {
		t.Errorf("ends in %q", b.String()[b.Len()-20:])
	}
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.ErrUnsupported }

func TestProblemsWriteFails(t *testing.T) {
	if err := (Problems{{Message: "m"}}).Write(brokenPipe{}, nil, false); !errors.Is(err, errors.ErrUnsupported) {
		t.Errorf("got %v", err)
	}
}

func TestProblemsSort(t *testing.T) {
	at := func(file string, line, col int) Place { return Place{file, line, col} }
	ps := Problems{
		{Place: at("b", 1, 1), Message: "m"},
		{Place: at("a", 10, 1), Message: "m"},
		{Place: at("a", 2, 9), Message: "m"},
		{Place: at("a", 2, 1), Code: "y", Message: "a"},
		{Place: at("a", 2, 1), Code: "x", Message: "z"},
		{Place: at("a", 2, 9), Message: "m"},
		{Place: at("a", 2, 1), Code: "x", Message: "b"},
	}
	ps.Sort()
	var got []string
	for _, p := range ps {
		got = append(got, p.Place.String()+" "+p.Code+" "+p.Message)
	}
	want := []string{"a:2:1 x b", "a:2:1 x z", "a:2:1 y a", "a:2:9  m", "a:10:1  m", "b:1:1  m"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestProblemsError(t *testing.T) {
	p := Problem{Place: Place{"a", 1, 2}, Message: "m"}
	w := Problem{Message: "w", Warning: true}
	for _, tt := range []struct {
		ps    Problems
		want  string
		fatal bool
	}{
		{nil, "no problems", false},
		{Problems{p}, "a:1:2: m", true},
		{Problems{w}, "w", false},
		{Problems{w, p}, "w (and 1 more)", true},
	} {
		if got := tt.ps.Error(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
		if got := tt.ps.Fatal(); got != tt.fatal {
			t.Errorf("%v: fatal %v", tt.ps, got)
		}
	}
}

// TestPlace compares the index with counting from the start.
func TestPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := rapid.StringOf(rapid.SampledFrom([]rune("a½\n\r\t😀"))).Draw(t, "src")
		if rapid.Bool().Draw(t, "mark") {
			src = "\ufeff" + src
		}
		offset := rapid.IntRange(0, len(src)).Draw(t, "offset")
		for offset > 0 && offset < len(src) && !utf8.RuneStart(src[offset]) {
			offset-- // places are of whole characters
		}
		want := Place{"f", 1, 1}
		for i, r := range strings.TrimPrefix(src, "\ufeff") {
			if i+len(src)-len(strings.TrimPrefix(src, "\ufeff"))+len(string(r)) > offset {
				break
			}
			want.Col++
			if r == '\n' {
				want.Line, want.Col = want.Line+1, 1
			}
		}
		if got := newLineIndex("f", []byte(src)).place(offset); got != want {
			t.Fatalf("offset %d of %q at %v, want %v", offset, src, got, want)
		}
	})
}

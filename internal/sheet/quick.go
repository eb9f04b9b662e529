package sheet

import (
	"fmt"
	"io"
	"slices"

	"galefast/internal/verdict"
)

// QuickPiece prints the answer for pieces that were described by flags alone: whether they
// stand, the ballast and the gusts, with the working when asked for.
func QuickPiece(w io.Writer, r *verdict.Report, s Style, explain bool) error {
	p := &printer{w: w, Style: s}
	own := Standing(r)
	p.line("%s", p.bold(printable(r.Title)))
	p.text(quickAnswer(own), "")
	p.line("")
	for _, t := range checkTables(own) {
		p.table(t)
	}
	if t := ballastTable(r, s.System); len(t.rows) > 0 {
		p.table(t)
	}
	p.table(limitsTable(r, s.System))
	p.text(gustsAre(r), "")
	p.line("")
	p.uncheckedList(own)
	if explain {
		p.workings(own)
	}
	p.assumptions(r)
	p.cautions(r)
	return p.err
}

// Standing is the report without the checks of what flags do not describe: power, the way
// through, and what hangs on them.
func Standing(r *verdict.Report) *verdict.Report {
	own := *r
	own.Checks = slices.DeleteFunc(slices.Clone(r.Checks), func(c verdict.Check) bool {
		return c.Kind != verdict.Standing && c.Kind != verdict.Hardware
	})
	own.Count()
	return &own
}

func quickAnswer(r *verdict.Report) string {
	answer := "Every computed check holds under the assumptions below"
	if n := r.Summary.Fails; n > 0 {
		answer = fmt.Sprintf("%d of %d computed checks fail", n, n+r.Summary.Holds)
	}
	return fmt.Sprintf("%s; %d unchecked.", answer, r.Summary.Unchecked)
}

// workings prints how every computed check was worked out.
func (p *printer) workings(r *verdict.Report) {
	for i := range r.Checks {
		if c := &r.Checks[i]; c.Result != verdict.Unchecked {
			p.working(c)
			p.line("")
		}
	}
	p.text(unitsNote, "")
	p.line("")
}

package check

import (
	"maps"
	"runtime"
	"sync"
	"sync/atomic"

	"galefast/internal/verdict"
)

// sideBySide does several pieces of work on all processors. Each writes a record of its
// own; these are joined in the order of the work, so that the record is the same on any
// number of processors.
func (j *job) sideBySide(work []func(*job)) {
	parts := make([]job, len(work))
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(len(work), runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := next.Add(1) - 1; int(i) < len(work); i = next.Add(1) - 1 {
				parts[i] = *j
				parts[i].report, parts[i].taken, parts[i].asks = &verdict.Report{}, nil, newStrengths()
				work[i](&parts[i])
			}
		})
	}
	workers.Wait()
	for i := range parts {
		j.join(&parts[i])
	}
}

// join appends what another job has recorded.
func (j *job) join(o *job) {
	a, b := j.report, o.report
	j.taken = append(j.taken, o.taken...)
	maps.Copy(j.asks.fixings, o.asks.fixings)
	maps.Copy(j.asks.guys, o.asks.guys)
	a.Checks = append(a.Checks, b.Checks...)
	a.Wind.Rows = append(a.Wind.Rows, b.Wind.Rows...)
	a.Ballast.Rows = append(a.Ballast.Rows, b.Ballast.Rows...)
	a.Ballast.Alternatives = append(a.Ballast.Alternatives, b.Ballast.Alternatives...)
	a.Limits.Rows = append(a.Limits.Rows, b.Limits.Rows...)
	if b.Limits.Rule != "" {
		a.Limits.Rule = b.Limits.Rule
	}
}

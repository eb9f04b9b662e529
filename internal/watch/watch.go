// Package watch runs something on a file whenever its content has changed.
//
// It reads the file several times a second and compares what it holds, instead of asking the
// system for events or comparing times: descriptions are small, so a reading costs next to
// nothing, and this way it does not matter whether an editor writes into the file, replaces
// it by another of its name, or sits at the far side of a network folder; nor can two saves
// within one tick of the clock, or one during a run, get lost. What has been run on is a
// content, and as long as the file holds another one, a run is due.
package watch

import (
	"bytes"
	"context"
	"time"
)

// Pause is the time between two readings. A content is run on when two readings in a row
// found it, so that nobody gets the half of a save.
const Pause = 150 * time.Millisecond

// Content calls run with what read gives: the first time at once, then whenever it has
// changed and stayed so over a pause. When it cannot be read over two pauses, gone gets the
// reason, once. It ends with the context, after a run that is going on, or with the first
// error of run.
func Content(ctx context.Context, read func() ([]byte, error), run func(content []byte) error, gone func(error)) error {
	var done, seen []byte // what has been run on, and what the reading before this one found
	known, fresh, missing := false, false, 0
	tick := time.NewTicker(Pause)
	defer tick.Stop()
	for {
		content, err := read()
		switch {
		case err != nil:
			fresh = false
			if missing++; missing == 2 {
				gone(err)
			}
		case known && bytes.Equal(content, done):
			fresh, missing = false, 0
		case !known || fresh && bytes.Equal(content, seen):
			if err := run(content); err != nil {
				return err
			}
			done, known, fresh, missing = content, true, false, 0
		default:
			seen, fresh, missing = content, true, 0
		}
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
		}
	}
}

// Package leash is for tests that feed generated input: it ends the process with the input in its
// last words when one piece of work takes too long or too much memory.
//
// Time is that of the processor, which other programs on a busy machine do not use up; a wait
// without end is stopped by the fuzzing engine of Go, after 10 s on the clock.
package leash

import (
	"fmt"
	"runtime/debug"
	"runtime/metrics"
	"time"
)

// Variables for the test of this package.
var (
	mostTime         = 5 * time.Second // of all processors together
	mostMemory int64 = 500 << 20       // bytes of heap beyond those at the start
)

// between is the time between two looks.
const between = 20 * time.Millisecond

// Hold watches until the function that it returns is called. input tells what was being worked on.
func Hold(input func() string) (done func()) {
	stop, stopped := make(chan struct{}), make(chan struct{})
	start, heap := processorTime(), heapBytes()
	look := func() {
		took, grown := processorTime()-start, heapBytes()-heap
		if took > mostTime || grown > mostMemory {
			debug.SetTraceback("all")
			panic(fmt.Sprintf("%.1f s of processor time and %d MB of heap, at most %.0f s and %d MB, on this input:\n%s",
				took.Seconds(), grown>>20, mostTime.Seconds(), mostMemory>>20, input()))
		}
	}
	go func() {
		defer close(stopped)
		tick := time.NewTicker(between)
		defer tick.Stop()
		for {
			select {
			case <-tick.C:
				look()
			case <-stop:
				return
			}
		}
	}()
	return func() {
		close(stop)
		<-stopped
		look()
	}
}

// heapBytes is the memory of the objects on the heap, those that are not collected yet included.
func heapBytes() int64 {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(sample)
	return int64(sample[0].Value.Uint64())
}

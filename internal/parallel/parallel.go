// Package parallel spreads work over the processors.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Do does work on 0 to n-1 on all processors and returns when all is done. The work must share nothing that it changes.
func Do(n int, work func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	all.Wait()
}

// FirstError returns the first error of a list that is one, or nil: what work done in order would have met first.
func FirstError(list []error) error {
	for _, err := range list {
		if err != nil {
			return err
		}
	}
	return nil
}

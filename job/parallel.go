package job

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// onAll does work on 0 to n-1 on all processors. The work must share nothing that it changes.
func onAll(n int, work func(i int)) {
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

// firstError returns the first error of a list that is one.
func firstError(list []error) error {
	for _, err := range list {
		if err != nil {
			return err
		}
	}
	return nil
}

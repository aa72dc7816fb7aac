package workshop

import "sync"

// Parallel returns a way to run tasks on that many goroutines, for
// prove.Settings.Each; nil, one by one, for less than two.
func Parallel(workers int) func(n int, do func(i int)) {
	if workers < 2 {
		return nil
	}
	return func(n int, do func(i int)) {
		var wg sync.WaitGroup
		next := make(chan int)
		for range min(workers, n) {
			wg.Go(func() {
				for i := range next {
					do(i)
				}
			})
		}
		for i := range n {
			next <- i
		}
		close(next)
		wg.Wait()
	}
}

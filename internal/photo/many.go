package photo

import (
	"io/fs"
	"runtime"
	"slices"
	"sync"
)

// Bounds of the work on many pictures at once.
const (
	mostWorkers = 2
	// allMemory bounds what pictures that are read at the same time take, in
	// bytes. One that alone takes more is read alone.
	allMemory = 200_000_000
)

// PrepareAll makes pictures ready, two at a time where the machine has two
// processors. It returns those that are ready by name, and for each other name
// what is wrong with it, in words that do not repeat the name; a name given
// twice is read once. progress, which may be nil, is called after each picture,
// never twice at the same time, with how many of how many are done. What is
// returned does not depend on the number of processors.
func PrepareAll(fsys fs.FS, names []string, o Options, progress func(done, total int)) (map[string]Prepared, map[string]string) {
	names = slices.Compact(slices.Sorted(slices.Values(names)))
	ready, wrong := map[string]Prepared{}, map[string]string{}
	memory := newBudget(allMemory)
	next := make(chan string)
	var one sync.Mutex
	work := func() {
		for name := range next {
			p, err := prepare(fsys, name, o.filled(), memory)
			one.Lock()
			if err != nil {
				wrong[name] = err.Error()
			} else {
				ready[name] = p
			}
			if progress != nil {
				progress(len(ready)+len(wrong), len(names))
			}
			one.Unlock()
		}
	}
	var all sync.WaitGroup
	for range min(mostWorkers, runtime.GOMAXPROCS(0), len(names)) {
		all.Go(work)
	}
	for _, name := range names {
		next <- name
	}
	close(next)
	all.Wait()
	return ready, wrong
}

// limit holds back work until there is memory for it.
type limit interface {
	take(bytes int64)
	give(bytes int64)
}

type unlimited struct{}

func (unlimited) take(int64) {}
func (unlimited) give(int64) {}

// budget is a limit shared by workers.
type budget struct {
	mutex sync.Mutex
	freed *sync.Cond
	all   int64
	free  int64
}

func newBudget(all int64) *budget {
	b := &budget{all: all, free: all}
	b.freed = sync.NewCond(&b.mutex)
	return b
}

func (b *budget) take(bytes int64) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for b.free < min(bytes, b.all) {
		b.freed.Wait()
	}
	b.free -= min(bytes, b.all)
}

func (b *budget) give(bytes int64) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.free += min(bytes, b.all)
	b.freed.Broadcast()
}

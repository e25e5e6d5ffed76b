package answer

import (
	"container/list"
	"sync"
)

// kept holds what was made last, by what it was made from, within a number and
// a room. What is being made at this moment is made once, whoever waits for it.
type kept[T any] struct {
	mu    sync.Mutex
	most  int
	room  int
	used  int
	order *list.List // of *entry[T], the last used in front
	by    map[string]*list.Element
	under map[string]*making[T]
}

type entry[T any] struct {
	key   string
	value T
	size  int
}

type making[T any] struct {
	done  chan struct{}
	value T
	err   error
}

func newKept[T any](most, room int) *kept[T] {
	return &kept[T]{most: most, room: room, order: list.New(), by: map[string]*list.Element{}, under: map[string]*making[T]{}}
}

// get returns what is kept under a key.
func (k *kept[T]) get(key string) (T, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if e, ok := k.by[key]; ok {
		k.order.MoveToFront(e)
		return e.Value.(*entry[T]).value, true
	}
	var none T
	return none, false
}

// put keeps a value of a size, in place of what was used longest ago. One that
// is larger than an eighth of the room is not kept.
func (k *kept[T]) put(key string, value T, size int) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if _, there := k.by[key]; there || size > k.room/8 {
		return
	}
	k.by[key] = k.order.PushFront(&entry[T]{key, value, size})
	k.used += size
	for k.used > k.room || k.order.Len() > k.most {
		last := k.order.Back()
		old := k.order.Remove(last).(*entry[T])
		delete(k.by, old.key)
		k.used -= old.size
	}
}

// begin joins in what is being made under a key, or begins it: first is true
// for the one who must make it and call end.
func (k *kept[T]) begin(key string) (m *making[T], first bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if m, ok := k.under[key]; ok {
		return m, false
	}
	m = &making[T]{done: make(chan struct{})}
	k.under[key] = m
	return m, true
}

// end hands what was made to whoever waits for it.
func (k *kept[T]) end(key string, m *making[T]) {
	k.mu.Lock()
	defer k.mu.Unlock()
	delete(k.under, key)
	close(m.done)
}

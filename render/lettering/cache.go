package lettering

import "sync"

type lineKey struct {
	content string
	face    Face
	height  float64
}

type shapeKey struct {
	content string
	face    Face
}

var (
	lines  cache[lineKey, *Line]
	shapes cache[shapeKey, *shape]
)

const (
	// generation is the number of entries of half the cache. A full traveler
	// has a few hundred different texts, so a job of like sheets stays cached.
	generation = 2048
	// longest is the longest text kept, in bytes; longer ones are rare and
	// would make the bound on entries meaningless.
	longest = 256
)

// cache is a bounded map for any number of goroutines. It keeps two
// generations: when the young one is full the old one is dropped, so what is in
// use moves on and the rest is forgotten.
type cache[K comparable, V any] struct {
	mu         sync.Mutex
	young, old map[K]V
}

func (c *cache[K, V]) get(k K) (V, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if v, ok := c.young[k]; ok {
		return v, true
	}
	v, ok := c.old[k]
	if ok {
		c.add(k, v)
	}
	return v, ok
}

func (c *cache[K, V]) put(k K, size int, v V) {
	if size > longest {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.add(k, v)
}

func (c *cache[K, V]) add(k K, v V) {
	if c.young == nil || len(c.young) >= generation {
		c.old, c.young = c.young, make(map[K]V)
	}
	c.young[k] = v
}

func (c *cache[K, V]) len() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.young) + len(c.old)
}

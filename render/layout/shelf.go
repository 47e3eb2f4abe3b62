package layout

import (
	"encoding/binary"
	"hash/maphash"
	"math"
	"reflect"
	"slices"
	"sync"

	"fay/joints"
	"fay/render"
	"fay/render/symbol"
)

// Shelf keeps the figures of sections, for jobs in which a section comes again.
// What it gives is what a new [Composer] would: a figure is kept with all it
// hangs on, the figures asked for before it among that. It is safe for
// concurrent use.
type Shelf struct {
	seed maphash.Seed
	mu   sync.Mutex
	// seen holds the keys of sections that came lately: what comes once is not
	// worth its memory.
	seen [4096]uint64
	kept map[uint64]*shelved
	// order holds the keys of what is kept, the next to give way at next.
	order []uint64
	next  int
}

// mostKept bounds the memory of a shelf to some 10 MB.
const mostKept = 128

// NewShelf is an empty shelf.
func NewShelf() *Shelf { return &Shelf{seed: maphash.MakeSeed(), kept: map[uint64]*shelved{}} }

// shelved is a section with its figures.
type shelved struct {
	sec     joints.Section
	style   render.Style
	symbols []symbol.Symbol

	mu      sync.Mutex
	figures map[string]*Figure // by what was asked of the composer so far
}

// Composer is NewComposer, with the figures that are kept already. A nil shelf
// keeps none.
func (s *Shelf) Composer(sec *joints.Section, style *render.Style, symbols ...symbol.Symbol) *Composer {
	if s == nil {
		return NewComposer(sec, style, symbols...)
	}
	// What no figure shows must not tell sections apart.
	shown := *sec
	shown.Title, shown.Parameters, shown.Notes = "", nil, nil
	k := s.find(&shown, style, symbols)
	if k == nil {
		return NewComposer(&shown, style, symbols...)
	}
	// Its own style: the one at hand holds on to the rest of its sheet.
	c := NewComposer(&k.sec, &k.style, k.symbols...)
	c.kept = k
	return c
}

// find gives what is kept of a section, or makes room for it; nil where the
// section is new.
func (s *Shelf) find(sec *joints.Section, style *render.Style, symbols []symbol.Symbol) *shelved {
	key := s.key(sec, symbols)
	s.mu.Lock()
	defer s.mu.Unlock()
	k, ok := s.kept[key]
	if ok && reflect.DeepEqual(k.sec, *sec) && reflect.DeepEqual(k.style, *style) && reflect.DeepEqual(k.symbols, symbols) {
		return k
	}
	last := &s.seen[key%uint64(len(s.seen))]
	if *last != key {
		*last = key
		return nil
	}
	switch {
	case ok: // the later one takes its place
	case len(s.order) < mostKept:
		s.order = append(s.order, key)
	default:
		delete(s.kept, s.order[s.next])
		s.order[s.next], s.next = key, (s.next+1)%mostKept
	}
	k = &shelved{sec: *sec, style: *style, symbols: symbols, figures: map[string]*Figure{}}
	s.kept[key] = k
	return k
}

// key is a hash of what most often tells sections apart.
func (s *Shelf) key(sec *joints.Section, symbols []symbol.Symbol) uint64 {
	var h maphash.Hash
	h.SetSeed(s.seed)
	text := func(t string) {
		_, _ = h.WriteString(t) // a hash never fails
		_ = h.WriteByte(0)
	}
	text(sec.Kind)
	for i := range sec.Members {
		text(sec.Members[i].Name)
		text(sec.Members[i].Material)
	}
	number := func(x float64) {
		var bits [8]byte
		binary.LittleEndian.PutUint64(bits[:], math.Float64bits(x))
		_, _ = h.Write(bits[:])
	}
	for i := range sec.Measures {
		number(sec.Measures[i].Value)
	}
	for i := range symbols {
		number(float64(symbols[i].Places))
	}
	return h.Sum64()
}

// question is one figure asked of a composer.
type question struct {
	what          byte
	width, height float64
}

// The figures a composer can be asked for: [Composer.Compose],
// [Composer.ComposeBare] and [Composer.Detailed].
const (
	whole byte = iota
	bare
	detailed
)

// ask answers a question, from the shelf if it can. A figure hangs on those
// asked for before it, which are made up for when one is missing.
func (c *Composer) ask(q question) *Figure {
	if c.kept == nil {
		return c.answer(q)
	}
	c.past = append(c.past, q.what)
	c.past = binary.LittleEndian.AppendUint64(c.past, math.Float64bits(q.width))
	c.past = binary.LittleEndian.AppendUint64(c.past, math.Float64bits(q.height))
	c.kept.mu.Lock()
	f, ok := c.kept.figures[string(c.past)]
	c.kept.mu.Unlock()
	if ok {
		c.owed = append(c.owed, q)
		return f
	}
	for _, before := range c.owed {
		c.answer(before)
	}
	c.owed = nil
	f = c.answer(q).finished()
	c.kept.mu.Lock()
	c.kept.figures[string(c.past)] = f
	c.kept.mu.Unlock()
	return f
}

func (c *Composer) answer(q question) *Figure {
	memory, _ := scratches.Get().(*scratch)
	c.search.scratch = *memory
	defer func() {
		*memory, c.search.scratch = c.search.scratch, scratch{}
		scratches.Put(memory)
	}()
	switch q.what {
	case bare:
		return c.compose(&c.bare, q.width, q.height)
	case detailed:
		return c.detailed(q.width, q.height)
	default:
		return c.compose(&c.marked, q.width, q.height)
	}
}

// finished is a figure without the memory of how it came about; nil stays nil.
func (f *Figure) finished() *Figure {
	if f == nil {
		return nil
	}
	done := *f
	done.Views = slices.Clone(f.Views)
	for i := range done.Views {
		v := *done.Views[i].View
		v.draft = nil
		done.Views[i].View = &v
	}
	return &done
}

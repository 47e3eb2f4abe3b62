package sheet

import "math"

// mostWays bounds the blocks that all ways are tried with.
const mostWays = 9

// share deals blocks, all in one spacing, out to columns so that the longest one
// is as short as can be; the first block stays in the first column, and order is
// kept in each.
func share(list []block, columns int) (dealt [][]block, height float64) {
	d := newDealing(list, columns)
	way := d.best()
	height = d.height(way)
	dealt = make([][]block, columns)
	for i := range list {
		var to int
		to, way = digit(way, i, columns)
		dealt[to] = append(dealt[to], list[i])
	}
	return dealt, height
}

// dealing is how high columns get. A way to deal is a number whose digits are the
// columns of the second block and those after it, the last digit first; blocks
// behind its digits go to the first column.
type dealing struct {
	high     []float64 // of the blocks
	gap      float64   // between them
	columns  []float64 // filled
	shortest float64   // height of the best way so far
	way      int
}

func newDealing(list []block, columns int) *dealing {
	d := &dealing{columns: make([]float64, columns)}
	for i := range list {
		d.high = append(d.high, list[i].full())
		d.gap = list[i].spacing.gap
	}
	return d
}

// height is that of the longest column of a way.
func (d *dealing) height(way int) float64 {
	clear(d.columns)
	for i := range d.high {
		var to int
		to, way = digit(way, i, len(d.columns))
		d.columns[to] = d.on(to, i)
	}
	return d.longest()
}

// digit takes the column of a block off a way.
func digit(way, block, columns int) (column, rest int) {
	if block == 0 {
		return 0, way
	}
	return way % columns, way / columns
}

// on is how high a column gets with one more block.
func (d *dealing) on(column, block int) float64 {
	h := d.columns[column]
	if h > 0 {
		h += d.gap
	}
	return h + d.high[block]
}

func (d *dealing) longest() float64 {
	longest := 0.0
	for _, h := range d.columns {
		longest = math.Max(longest, h)
	}
	return longest
}

// best is the first of the ways with the shortest column.
func (d *dealing) best() int {
	clear(d.columns)
	for i := range d.high {
		if i == 0 || i >= mostWays {
			d.columns[0] = d.on(0, i)
		}
	}
	d.shortest, d.way = math.Inf(1), 0
	d.try(min(len(d.high), mostWays)-1, 0)
	return d.way
}

// try deals a block and those before it, in the order of the ways.
func (d *dealing) try(block, way int) {
	longest := d.longest()
	if longest >= d.shortest-1e-9 {
		return // it only gets longer
	}
	if block <= 0 {
		d.shortest, d.way = longest, way
		return
	}
	for column, h := range d.columns {
		d.columns[column] = d.on(column, block)
		d.try(block-1, way*len(d.columns)+column)
		d.columns[column] = h
	}
}

func columnHeight(list []block) float64 {
	h := 0.0
	for i := range list {
		h += list[i].full()
		if i > 0 {
			h += list[i].spacing.gap
		}
	}
	return h
}

// takes chooses the blocks for the zone of the tables, so that what is left
// takes the least height under the figure; the first block is always among
// them, and order is kept. Blocks that the zone cannot hold are given back.
func takes(list []block, across int, height float64, under int) (taken, rest []block) {
	all := newDealing(list, across)
	in, out := newDealing(nil, across), newDealing(nil, under)
	n := min(len(list), mostWays)
	least, best := math.Inf(1), 0
	// Sets with more in the zone leave less and are tried first; the first of
	// equal sets is taken.
	for set := 1<<n - 1; set > 0; set -= 2 {
		in.part(all, func(i int) bool { return i < n && set>>i&1 == 1 })
		out.part(all, func(i int) bool { return i >= n || set>>i&1 == 0 })
		// Among equals the one with more in the zone.
		more := 1e-6 * float64(len(in.high))
		if out.atLeast()-more > least+1e-9 || in.atLeast() > height+1e-9 || in.height(in.best()) > height {
			continue
		}
		if high := out.height(out.best()) - more; high <= least {
			least, best = high, set
		}
	}
	if best == 0 {
		return nil, list
	}
	for i := range list {
		if i < n && best>>i&1 == 1 {
			taken = append(taken, list[i])
		} else {
			rest = append(rest, list[i])
		}
	}
	return taken, rest
}

// part takes some of the blocks of another dealing.
func (d *dealing) part(of *dealing, some func(i int) bool) {
	d.high, d.gap = d.high[:0], of.gap
	for i := range of.high {
		if some(i) {
			d.high = append(d.high, of.high[i])
		}
	}
}

// atLeast is a height that no way is below.
func (d *dealing) atLeast() float64 {
	sum := 0.0
	for _, h := range d.high {
		sum += h
	}
	return sum / float64(len(d.columns))
}

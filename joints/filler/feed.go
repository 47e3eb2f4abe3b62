package filler

// feed tells how much rod a weld takes along each pass.
func (c *chain) feed(w *WeldShare) {
	if c.p.Rod != nil {
		w.RodFeedRatio = c.num(w.DepositedAreaMM2 * c.laid / c.rod / w.beads())
	}
}

// beads is how many passes a weld counts as: one where they are not counted.
func (w *WeldShare) beads() float64 { return float64(max(orZero(w.Passes), 1)) }

// mean is that of the rod fed along the passes of several welds.
type mean struct{ rod, passes float64 }

// add adds a weld of a length.
func (m *mean) add(w *WeldShare, length float64) {
	m.rod += orZero(w.RodFeedRatio) * w.beads() * length
	m.passes += w.beads() * length
}

func (m *mean) value() float64 { return m.rod / m.passes }

// feedAlong weighs the rod fed by the lengths of the welds where they are known.
func (f *Filler) feedAlong(c *chain) {
	var fed mean
	for i := range f.Welds {
		fed.add(&f.Welds[i], orZero(f.Welds[i].LengthMM))
	}
	if f.RodFeedRatio != nil && fed.passes > 0 {
		f.RodFeedRatio = c.num(fed.value())
	}
}

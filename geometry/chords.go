package geometry

import "math"

// Chords returns the intervals of s for which p + s·dir lies inside the
// outline, in rising order, for hatching and levels. Stretches along the
// boundary do not count as inside; a vertex touched from inside does not part
// an interval. None are returned if dir has no length.
func (o Outline) Chords(p, dir Point) [][2]float64 {
	if !p.IsFinite() || !dir.IsFinite() || !(dir.Norm() > 0) {
		return nil
	}
	var buf [32]float64
	at := buf[:0]
	n := dir.Norm()
	for i := range o.edges {
		e := &o.edges[i]
		if e.clearOf(p, dir, n) {
			continue
		}
		at = e.lineParams(p, dir, at)
	}
	sortSmall(at)
	var out [][2]float64
	for i := 0; i < len(at); {
		j := i + 1
		for j < len(at) && (at[j]-at[i])*n <= 2*Coincident {
			j++
		}
		if j == len(at) {
			break
		}
		if o.Locate(p.Add(dir.Scale((at[i]+at[j])/2))) == Inside {
			if k := len(out); k > 0 && out[k-1][1] == at[i] {
				out[k-1][1] = at[j]
			} else {
				out = append(out, [2]float64{at[i], at[j]})
			}
		}
		i = j
	}
	return out
}

// clearOf reports, by the box alone, that the edge stays off the line.
func (e *Edge) clearOf(p, dir Point, n float64) bool {
	b := e.looseBounds()
	c := b.Min.Add(b.Max).Scale(0.5).Sub(p)
	reach := (math.Abs(dir.X)*b.Height() + math.Abs(dir.Y)*b.Width()) / 2
	return math.Abs(dir.Cross(c)) > reach+2*Coincident*n
}

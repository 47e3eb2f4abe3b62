package fitup

import "fay/geometry"

// CompactTable is a fit-up table for the bench: up to an opening, lay these
// legs. It needs no calculator and no reading between lines.
type CompactTable struct {
	Parameter string // "gap" or "root-opening"
	Welds     []string
	Rows      []CompactRow
	// Closed is the last opening that legs are known for, where no leg keeps the
	// throat beyond it and the members must be brought together; zero where the
	// table ends by its rule.
	Closed geometry.Length
}

// CompactRow is one line: it serves every opening over that of the line before
// it and up to its own.
type CompactRow struct {
	UpTo    geometry.Length
	Nominal bool // the planned opening lies on this line
	// Legs to lay, one pair for each weld, rounded up.
	Legs [][2]geometry.Length
	// WholeEdge tells which of them are cut short by the member's edge.
	WholeEdge [][2]bool
}

// Compact puts a table into at most the given number of rows, at least one.
// Openings that ask for the same legs share a row; where rows must go, their
// openings take the larger legs of the next one. The bool is false for a table
// of welds without legs.
func Compact(t *Table, most int) (CompactTable, bool) {
	c := CompactTable{Parameter: t.Parameter}
	for _, w := range t.Throats {
		if w.Legs {
			c.Welds = append(c.Welds, w.Weld)
		}
	}
	if len(c.Welds) == 0 {
		return CompactTable{}, false
	}
	for i := range t.Rows {
		row, ok := compactRow(&t.Rows[i])
		if !ok {
			if i > 0 {
				c.Closed = t.Rows[i-1].Opening
			}
			break
		}
		if n := len(c.Rows); n > 0 && same(&c.Rows[n-1], &row) {
			row.Nominal = row.Nominal || c.Rows[n-1].Nominal
			c.Rows[n-1] = row
			continue
		}
		c.Rows = append(c.Rows, row)
	}
	c.Rows = thin(c.Rows, max(most, 1))
	return c, len(c.Rows) > 0
}

// compactRow takes the legs to lay out of a row; the bool is false where one
// of the welds has none.
func compactRow(r *Row) (CompactRow, bool) {
	row := CompactRow{UpTo: r.Opening, Nominal: r.Nominal}
	for _, w := range r.Welds {
		if w.Impossible != "" {
			return CompactRow{}, false
		}
		if !w.Lay[0].Present {
			continue
		}
		row.Legs = append(row.Legs, [2]geometry.Length{w.Lay[0].Value, w.Lay[1].Value})
		row.WholeEdge = append(row.WholeEdge, w.WholeEdge)
	}
	return row, true
}

func same(a, b *CompactRow) bool {
	for i := range a.Legs {
		for j := range a.Legs[i] {
			if d := a.Legs[i][j] - b.Legs[i][j]; d > sameOpening || d < -sameOpening || a.WholeEdge[i][j] != b.WholeEdge[i][j] {
				return false
			}
		}
	}
	return true
}

// thin keeps so many rows, evenly spread, the last one always among them and,
// where there is room for it, the one of the plan.
func thin(rows []CompactRow, most int) []CompactRow {
	n := len(rows)
	if n <= most {
		return rows
	}
	chosen := make([]bool, n)
	for i := range most {
		chosen[(i+1)*n/most-1] = true
	}
	for i := range rows {
		if !rows[i].Nominal || chosen[i] || most < 2 {
			continue
		}
		// The nearest chosen row before or after gives way, never the last.
		for d := 1; d < n; d++ {
			if j := i - d; j >= 0 && chosen[j] {
				chosen[j], chosen[i] = false, true
				break
			}
			if j := i + d; j < n-1 && chosen[j] {
				chosen[j], chosen[i] = false, true
				break
			}
		}
	}
	out := make([]CompactRow, 0, most)
	nominal := false
	for i := range rows {
		nominal = nominal || rows[i].Nominal
		if !chosen[i] {
			continue
		}
		rows[i].Nominal, nominal = nominal, false
		out = append(out, rows[i])
	}
	return out
}

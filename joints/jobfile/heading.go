package jobfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// maxColumns bounds the columns of a table.
const maxColumns = 500

// Columns with a meaning of their own.
const (
	jointColumn    = "joint"
	fileColumn     = "file"
	quantityColumn = "quantity"
)

// column is a column of a table.
type column struct {
	heading string // as written
	name    string // as in an assignment; empty for a column that is not used
	form    jointfile.Form
	unit    string // of bare lengths in the column; empty for none
	length  geometry.Unit
}

// headings reads the first row of a table.
func (t *Table) headings(cells []string) {
	if len(cells) > maxColumns {
		t.fault(jointfile.FaultTooLarge, "", "", t.place(0), fmt.Sprintf("has more than %d columns", maxColumns), "leave out what no joint needs")
		return
	}
	special := map[string]int{}
	for i, cell := range cells {
		c := column{heading: strings.TrimSpace(cell)}
		t.columns = append(t.columns, c)
		if c.heading == "" {
			continue // judged by its cells
		}
		if !utf8.ValidString(c.heading) {
			t.notUTF8("", c.heading, t.place(i))
			continue
		}
		name, unit := splitUnit(c.heading)
		name = strings.ToLower(name)
		switch name {
		case jointColumn, fileColumn, quantityColumn:
			if first, twice := special[name]; twice {
				t.twice(i, first)
			}
			special[name] = i
			if unit != "" {
				t.noUnit(i, unit)
			}
		case "traveler.quantity":
			t.fault(joints.FaultUnknown, c.heading, "", t.place(i), "is called quantity in a table", "call the column quantity")
		default:
			if !t.parameter(i, name, unit) {
				continue
			}
		}
		t.columns[i].name = name
	}
	_, byKind := special[jointColumn]
	_, byFile := special[fileColumn]
	if !byKind && !byFile {
		t.fault(joints.FaultMissing, jointColumn, "", t.place(0), "a table says in each row which joint is meant",
			"add a column joint with the kind, or a column file with a joint file")
	}
	t.duplicates()
	t.units = commonUnit(t.columns)
}

// commonUnit is the unit of joints whose lengths all have one in their heads, mm
// or inches; nil where one has none or they do not agree.
func commonUnit(columns []column) *geometry.Unit {
	var common *geometry.Unit
	for i := range columns {
		c := &columns[i]
		if c.form != jointfile.LengthForm || c.name == "" {
			continue
		}
		unit := geometry.UnitMM
		if c.length == geometry.UnitInch || c.length == geometry.UnitFoot {
			unit = geometry.UnitInch
		}
		if c.unit == "" || common != nil && *common != unit {
			return nil
		}
		common = &unit
	}
	return common
}

// splitUnit takes `leg (mm)` or `leg [mm]` apart.
func splitUnit(heading string) (name, unit string) {
	open := strings.LastIndexAny(heading, "([")
	if open < 0 || !strings.HasSuffix(heading, map[byte]string{'(': ")", '[': "]"}[heading[open]]) {
		return heading, ""
	}
	return strings.TrimSpace(heading[:open]), strings.TrimSpace(heading[open+1 : len(heading)-1])
}

// parameter settles a column that gives a value of the joint.
func (t *Table) parameter(i int, name, unit string) bool {
	c := &t.columns[i]
	known := false
	for k := range joints.Kinds {
		if _, form, ok := jointfile.Lookup(&joints.Kinds[k], name); ok {
			c.form, known = form, true
			break
		}
	}
	if !known {
		remedy := "`fay kinds` lists the names; a unit stands behind them in brackets, as in leg (mm)"
		if near := nearName(name); near != "" {
			remedy = "did you mean " + near + "?"
		}
		t.fault(joints.FaultUnknown, c.heading, "", t.place(i), "is not a name that a joint has", remedy)
		return false
	}
	if unit == "" {
		return true
	}
	switch c.form {
	case jointfile.LengthForm:
		u, err := geometry.ParseUnit(unit)
		if err != nil {
			t.fault(joints.FaultUnknown, c.heading, unit, t.place(i), "is not a unit of length", "write mm, cm, m, in or ft")
			return false
		}
		c.unit, c.length = u.String(), u
	case jointfile.AngleForm:
		if a, err := geometry.ParseAngle("1 " + unit); err != nil || a != geometry.Degree {
			t.fault(joints.FaultUnknown, c.heading, unit, t.place(i), "is not degrees", "write deg, or leave it out")
			return false
		}
	default:
		t.noUnit(i, unit)
		return false
	}
	return true
}

// nearName is the name of a joint, of whatever kind, that a heading may stand
// for; empty for none.
func nearName(name string) string {
	if len(name) > longestShown {
		return ""
	}
	var names []string
	for k := range joints.Kinds {
		names = append(names, jointfile.Names(&joints.Kinds[k])...)
	}
	// Words are often written apart.
	for _, mark := range []string{".", "-"} {
		if joined := strings.NewReplacer(" ", mark, "_", mark).Replace(name); slices.Contains(names, joined) {
			return joined
		}
	}
	return joints.Nearest(name, names)
}

func (t *Table) noUnit(i int, unit string) {
	t.fault(joints.FaultConflict, t.columns[i].heading, unit, t.place(i), "takes no unit", "write the name alone")
}

func (t *Table) twice(i, first int) {
	t.fault(joints.FaultDuplicate, t.columns[i].heading, "", t.place(i),
		fmt.Sprintf("is what the column %s gives already", t.columns[first].heading), "keep one of the two")
}

// duplicates refuses two columns for one value of a kind, such as leg and
// arrow.leg.
func (t *Table) duplicates() {
	told := map[int]bool{}
	for k := range joints.Kinds {
		seen := map[string]int{}
		for i := range t.columns {
			path, _, ok := jointfile.Lookup(&joints.Kinds[k], t.columns[i].name)
			if !ok || t.columns[i].name == jointColumn {
				continue
			}
			if first, twice := seen[path]; twice && !told[i] {
				told[i] = true
				t.twice(i, first)
			}
			seen[path] = i
		}
	}
}

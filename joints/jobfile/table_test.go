package jobfile_test

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
)

// rows reads a table to its end.
func rows(t *testing.T, text string) ([]jobfile.Row, error) {
	t.Helper()
	table, err := jobfile.NewTable("job.csv", strings.NewReader(text))
	if err != nil {
		return nil, err
	}
	var out []jobfile.Row
	var faults jointfile.Faults
	for {
		row, err := table.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			faults = append(faults, jointfile.AsFaults(err)...)
			continue
		}
		out = append(out, row)
	}
	if faults != nil {
		return out, faults
	}
	return out, nil
}

func TestTable(t *testing.T) {
	want := []jobfile.Row{
		{Kind: "tee", Quantity: 4, Sets: []jobfile.Set{{Name: "base", Text: "8 mm"}, {Name: "leg", Text: "1/8 in ±0.02"}, {Name: "title", Text: "foot, left"}}},
		{Kind: "lap", Sets: []jobfile.Set{{Name: "leg", Text: "[0.1 in, 3mm]"}}},
		{File: "a.yaml", Sets: []jobfile.Set{{Name: "leg", Text: "4mm"}, {Name: "title", Text: "8"}}},
	}
	for name, text := range map[string]string{
		"commas":          "joint,file,quantity,base (mm),leg (in),title\ntee,,4,8,1/8 ±0.02,\"foot, left\"\nlap,,,,\"[0.1, 3mm]\",\n,a.yaml,,,4mm,8\n",
		"semicolons":      "joint;file;quantity;base (mm);leg (in);title\ntee;;4;8;1/8 ±0.02;foot, left\nlap;;;;[0.1, 3mm];\n;a.yaml;;;4mm;8\n",
		"tabs":            "joint\tfile\tquantity\tbase [mm]\tleg [in]\ttitle\ntee\t\t4\t8\t1/8 ±0.02\tfoot, left\nlap\t\t\t\t[0.1, 3mm]\t\n\ta.yaml\t\t\t4mm\t\"8\"\n",
		"sign in a line":  "sep=;\r\njoint;file;quantity;base (mm);leg (in);title\r\ntee;;4;8;1/8 ±0.02;foot, left\r\nlap;;;;[0.1, 3mm];\r\n;a.yaml;;;4mm;8\r\n",
		"mark and blanks": "\ufeffJoint , file,Quantity,Base ( mm ),LEG (inch),title,\n\n tee,,4,8,1/8 ±0.02,\"foot, left\",\n,,,,,,\nlap,,,,\"[0.1,3mm]\",,\n   \n\n,a.yaml,,,4mm,8,",
	} {
		t.Run(name, func(t *testing.T) {
			got, err := rows(t, text)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(want, got, placeless); d != "" {
				t.Errorf("rows (-want +got):\n%s", d)
			}
		})
	}
}

// A quote inside a cell is a sign like any other, and a row that cannot be read
// costs no other row.
func TestTableQuotes(t *testing.T) {
	got, err := rows(t, "joint,title,base,leg\ntee,a,6,3\ntee,b 1/4\" plate,1/4\",3\ntee,\"c \"\"d\"\"\" ,6,3\ntee,\"e,6,3\ntee,f,6,3\ntee,\"g\nh\",6,3\ntee,\"i\" j,6,3\ntee,k,6,3\n")
	want := []jobfile.Row{}
	for _, title := range []string{"a", `b 1/4" plate`, `c "d"`, "f", "k"} {
		base := "6"
		if title[0] == 'b' {
			base = `1/4"`
		}
		want = append(want, jobfile.Row{Kind: "tee", Sets: []jobfile.Set{{Name: "title", Text: title}, {Name: "base", Text: base}, {Name: "leg", Text: "3"}}})
	}
	if d := cmp.Diff(want, got, placeless); d != "" {
		t.Errorf("rows (-want +got):\n%s", d)
	}
	faults := []fault{
		{joints.FaultSyntax, "title", "job.csv:5:5 (row 5, column title)"},
		{joints.FaultSyntax, "title", "job.csv:7:5 (row 7, column title)"}, // a title is one line
		{joints.FaultSyntax, "title", "job.csv:9:5 (row 8, column title)"},
	}
	if d := cmp.Diff(faults, faultsOf(t, err)); d != "" {
		t.Errorf("faults (-want +got):\n%s", d)
	}
}

// The heads of lengths give the units of joints, where all of them agree.
func TestTableUnits(t *testing.T) {
	in, mm := geometry.UnitInch, geometry.UnitMM
	for text, want := range map[string]*geometry.Unit{
		"joint,base (in),leg (ft),title":       &in,
		"joint,base (mm),leg [cm],angle (deg)": &mm,
		"joint,base (in),leg":                  nil,
		"joint,base (in),leg (mm)":             nil,
		"joint,title":                          nil,
	} {
		got, err := rows(t, text+"\ntee"+strings.Repeat(",", strings.Count(text, ","))+"\n")
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got[0].Units); d != "" {
			t.Errorf("%s (-want +got):\n%s", text, d)
		}
	}
}

// A table says the same as assignments.
func TestTableBuilds(t *testing.T) {
	got, err := rows(t, "joint,base (in),stem,leg (cm),gap,seam.length (m)\ntee,1/4,3,.3,0.3,.18\ntee,8mm,3,3mm,0,5mm\n")
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range []string{"base=1/4in stem=3 leg=3 gap=0.3 seam.length=180", "base=8 stem=3 leg=3 seam.length=5"} {
		want, err := jointfile.Read(jointfile.Source{Kind: "tee", Assignments: strings.Fields(line)})
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jointfile.Read(got[i].Source())
		if err != nil {
			t.Fatal(got[i].Place(err))
		}
		if doc.Digest != want.Digest {
			t.Errorf("row %d is another joint than %s: %+v", i+1, line, doc.Input)
		}
	}
}

func TestTableFaults(t *testing.T) {
	tests := []struct {
		name, text string
		want       []fault
		says       string
	}{
		{"empty", "", []fault{{joints.FaultMissing, "joint", "job.csv:1:1"}}, "the table is empty"},
		{"blank", "\n\n", []fault{{joints.FaultMissing, "joint", "job.csv:1:1"}}, "the table is empty"},
		{"no column for the joint", "base,leg\n8,3\n", []fault{{joints.FaultMissing, "joint", "job.csv:1:1 (row 1, column base)"}}, "add a column joint"},
		{"duplicate", "joint,leg,Leg (mm)\n", []fault{{joints.FaultDuplicate, "Leg (mm)", "job.csv:1:11 (row 1, column Leg (mm))"}}, "what the column leg gives already"},
		{"two names of one value", "joint,leg,arrow.leg\n", []fault{{joints.FaultDuplicate, "arrow.leg", "job.csv:1:11 (row 1, column arrow.leg)"}}, ""},
		{"twice the joint", "joint,joint\n", []fault{{joints.FaultDuplicate, "joint", "job.csv:1:7 (row 1, column joint)"}}, ""},
		{"unknown column", "joint,lgg\n", []fault{{joints.FaultUnknown, "lgg", "job.csv:1:7 (row 1, column lgg)"}}, "did you mean leg?"},
		{"a group", "joint,seam\n", []fault{{joints.FaultUnknown, "seam", "job.csv:1:7 (row 1, column seam)"}}, ""},
		{"unknown unit", "joint,leg (px)\n", []fault{{joints.FaultUnknown, "leg (px)", "job.csv:1:7 (row 1, column leg (px))"}}, "write mm, cm, m, in or ft"},
		{"unit of an angle", "joint,angle (mm)\n", []fault{{joints.FaultUnknown, "angle (mm)", "job.csv:1:7 (row 1, column angle (mm))"}}, "write deg"},
		{"unit of words", "joint,title (mm),quantity (mm)\n", []fault{
			{joints.FaultConflict, "title (mm)", "job.csv:1:7 (row 1, column title (mm))"}, {joints.FaultConflict, "quantity (mm)", "job.csv:1:18 (row 1, column quantity (mm))"},
		}, ""},
		{"quantity of the file", "joint,traveler.quantity\n", []fault{{joints.FaultUnknown, "traveler.quantity", "job.csv:1:7 (row 1, column traveler.quantity)"}}, "call the column quantity"},
		{"too many columns", "joint" + strings.Repeat(",", 500) + "\n", []fault{{jointfile.FaultTooLarge, "", "job.csv:1:1 (row 1)"}}, ""},
		{"decimal comma", "joint;base;leg\ntee;8;3,5\n\n\"tee\";\"8,5\";3\n", []fault{
			{joints.FaultSyntax, "leg", "job.csv:2:7 (row 2, column leg)"}, {joints.FaultSyntax, "base", "job.csv:4:7 (row 4, column base)"},
		}, "write decimals with a point, as in 3.5"},
		{"decimal comma without quotes", "joint,base,leg\ntee,8,3,5\ntee,8,3\n", []fault{{jointfile.FaultShape, "", "job.csv:2:1 (row 2, column joint)"}}, "the row has 4 cells, the first row 3; write decimals with a point"},
		{"too few cells", "joint,base,leg\ntee,8\n", []fault{{jointfile.FaultShape, "", "job.csv:2:1 (row 2, column joint)"}}, "the row has 2 cells"},
		{"no joint", "joint,base,file\n,8,\n", []fault{{joints.FaultMissing, "joint", "job.csv:2:1 (row 2, column joint)"}}, ""},
		{"two joints", "joint,file\ntee,a.yaml\n", []fault{{joints.FaultConflict, "file", "job.csv:2:5 (row 2, column file)"}}, ""},
		{"quantity", "joint,quantity\ntee,0\ntee,1.5\n", []fault{{joints.FaultRange, "quantity", "job.csv:2:5 (row 2, column quantity)"}, {joints.FaultSyntax, "quantity", "job.csv:3:5 (row 3, column quantity)"}}, ""},
		{"a cell under nothing", "joint,\ntee,\ntee,x\n", []fault{{joints.FaultUnknown, "", "job.csv:3:5 (row 3)"}}, "name the column"},
		{"a quote that stays open", "joint,title\ntee,\"x\ntee,8,9\n", []fault{
			{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}, {jointfile.FaultShape, "", "job.csv:3:1 (row 3, column joint)"},
		}, "close it"},
		{"closed before more text", "joint,title\ntee,\"x\" y\n", []fault{{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}}, "inches may be written as 1/4in"},
		{"closed by a later quote", "joint,title,leg\ntee,\"a,3\ntee,b,x\ntee,\"c\",3\n", []fault{{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}}, ""},
		{"closed by a quote at the end", "joint,title,leg\ntee,\"a,3\ntee,b,\"\ntee,c,3\n", []fault{
			{joints.FaultSyntax, "", "job.csv:2:1 (row 2, column joint)"}, {joints.FaultSyntax, "leg", "job.csv:3:7 (row 3, column leg)"},
		}, "leaves the row 2 cells, the first row has 3"},
		{"rows behind a folded cell", "joint,title,quantity\ntee,\"a\nb\",x\ntee,,y\n", []fault{
			{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}, {joints.FaultSyntax, "quantity", "job.csv:3:4 (row 2, column quantity)"}, {joints.FaultSyntax, "quantity", "job.csv:4:6 (row 3, column quantity)"},
		}, ""},
		{"characters, not bytes", "joint,title,quantity\ntee,±±,x\n", []fault{{joints.FaultSyntax, "quantity", "job.csv:2:8 (row 2, column quantity)"}}, ""},
		{"not UTF-8", "joint,title\ntee,\xff\n", []fault{{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}}, ""},
		{"UTF-16", "\xff\xfej\x00o\x00", []fault{{joints.FaultSyntax, "", "job.csv:1:1"}}, "CSV UTF-8"},
		{"a row without end", "joint,title\ntee,\"" + strings.Repeat("x,\n", 20_000) + strings.Repeat("x", 70_000) + "\ntee,8,9\n", []fault{
			{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}, {jointfile.FaultTooLarge, "", "job.csv:20002:1 (row 20002, column joint)"}, {jointfile.FaultShape, "", "job.csv:20003:1 (row 20003, column joint)"},
		}, "is not closed"},
		{"an open quote before a long row", "joint,title\ntee,\"x\ntee," + strings.Repeat("x", 70_000) + "\ntee,8,9\n", []fault{
			{joints.FaultSyntax, "title", "job.csv:2:5 (row 2, column title)"}, {jointfile.FaultTooLarge, "", "job.csv:3:1 (row 3, column joint)"}, {jointfile.FaultShape, "", "job.csv:4:1 (row 4, column joint)"},
		}, ""},
		{"a long row", "joint,title\ntee," + strings.Repeat("x", 70_000) + "\ntee,8,9\n", []fault{
			{jointfile.FaultTooLarge, "", "job.csv:2:1 (row 2, column joint)"}, {jointfile.FaultShape, "", "job.csv:3:1 (row 3, column joint)"},
		}, ""},
		{"words written apart", "joint,seam length\n", []fault{{joints.FaultUnknown, "seam length", "job.csv:1:7 (row 1, column seam length)"}}, "did you mean seam.length?"},
		{"a slip before the point", "joint,fillerr.type\n", []fault{{joints.FaultUnknown, "fillerr.type", "job.csv:1:7 (row 1, column fillerr.type)"}}, "did you mean filler.type?"},
		{"no name at all", "joint,nothing like it\n", []fault{{joints.FaultUnknown, "nothing like it", "job.csv:1:7 (row 1, column nothing like it)"}}, "as in leg (mm)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := rows(t, tt.text)
			if d := cmp.Diff(tt.want, faultsOf(t, err)); d != "" {
				t.Errorf("faults (-want +got):\n%s\n%v", d, err)
			}
			if err != nil && !strings.Contains(err.Error(), tt.says) {
				t.Errorf("says %q, want %q in it", err, tt.says)
			}
		})
	}
}

// What the joint itself refuses is told by row and column.
func TestTablePlace(t *testing.T) {
	table := "joint,base,stem,leg,overlap\ntee,8,,3,\ntee,8,0,3,\ntee,8,3,3,9\ntea,8,3,3,\ntee,8,3,,\n"
	got, err := rows(t, table)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"job.csv:2:1 (row 2, column joint): stem.thickness: every member needs a thickness; fill in a column stem",
		"job.csv:3:7 (row 3, column stem): stem.thickness = 0 mm: must lie between 0.2 mm and 300 mm; the nearest value that is taken is 0.2 mm",
		"job.csv:4:11 (row 4, column overlap): overlap: is not a name that a tee joint has",
		"job.csv:5:1 (row 5, column joint): joint = tea: is not a kind of joint on file; did you mean tee?",
		"job.csv:6:1 (row 6, column joint): welds: a joint needs at least one weld; give a size, such as leg=3",
	}
	for i := range got {
		_, err := jointfile.Read(got[i].Source())
		if err == nil {
			t.Errorf("row %d was read", i+2)
			continue
		}
		if text := got[i].Place(err).Error(); !strings.HasPrefix(text, want[i]) {
			t.Errorf("row %d: %s\nwant %s …", i+2, text, want[i])
		}
	}
}

// endless is a table of so many rows that is never in memory as a whole.
type endless struct {
	rows, at int
	rest     string
}

func (e *endless) Read(p []byte) (int, error) {
	if e.rest == "" {
		if e.at > e.rows {
			return 0, io.EOF
		}
		e.rest = "joint,base,stem,leg,title\n"
		if e.at > 0 {
			e.rest = fmt.Sprintf("tee,8,3,3,foot %d %s\n", e.at, strings.Repeat("x", 80))
		}
		e.at++
	}
	n := copy(p, e.rest)
	e.rest = e.rest[n:]
	return n, nil
}

// A table has any number of rows, and takes no more memory for more of them.
func TestTableOfAnyLength(t *testing.T) {
	const rows = jobfile.MaxRows + 1
	table, err := jobfile.NewTable("job.csv", &endless{rows: rows})
	if err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	for i := range rows {
		if i == 1000 {
			runtime.GC()
			runtime.ReadMemStats(&before)
		}
		if _, err := table.Next(); err != nil {
			t.Fatal(err)
		}
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	// The table itself is some 10 MB.
	if after.HeapAlloc > before.HeapAlloc+1<<20 {
		t.Errorf("%d bytes more in use at the end than at the beginning", after.HeapAlloc-before.HeapAlloc)
	}
	if _, err := table.Next(); !errors.Is(err, io.EOF) {
		t.Errorf("behind the last row: %v", err)
	}
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("disk gone") }

func TestTableReadFails(t *testing.T) {
	if _, err := jobfile.NewTable("job.csv", broken{}); err == nil || !strings.Contains(err.Error(), "disk gone") {
		t.Errorf("error %v", err)
	}
	table, err := jobfile.NewTable("job.csv", io.MultiReader(strings.NewReader("joint,title\n"+strings.Repeat("tee,x\n", 20_000)), broken{}))
	if err != nil {
		t.Fatal(err)
	}
	for range 20_000 {
		if _, err := table.Next(); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := table.Next(); err == nil || !strings.Contains(err.Error(), "disk gone") {
		t.Errorf("error %v", err)
	}
	if _, err := table.Next(); !errors.Is(err, io.EOF) {
		t.Errorf("behind the error: %v", err)
	}
}

func FuzzTable(f *testing.F) {
	f.Add("joint,file,quantity,base (mm),leg (in),title\ntee,,4,8,1/8 ±0.02,\"foot, left\"\n\n,a.yaml,,,4mm,8\n")
	f.Add("\ufeffsep=;\njoint;angle (deg);leg\ntee;60;3,5\n")
	f.Add("joint,seams.2.length (ft)\ntee,\"1/2\n\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := jobfile.NewTable("f.csv", strings.NewReader(text))
		if err != nil {
			positioned(t, err, false)
			return
		}
		for range len(text) + 2 {
			row, err := table.Next()
			if errors.Is(err, io.EOF) {
				return
			}
			if err != nil {
				positioned(t, err, false)
				continue
			}
			if _, err := jointfile.Read(row.Source()); err != nil && row.Kind != "" {
				positioned(t, row.Place(err), false)
			}
		}
		t.Fatalf("more rows than bytes: %q", text)
	})
}

func BenchmarkTable(b *testing.B) {
	for b.Loop() {
		table, err := jobfile.NewTable("job.csv", &endless{rows: 1000})
		if err != nil {
			b.Fatal(err)
		}
		for range 1000 {
			if _, err := table.Next(); err != nil {
				b.Fatal(err)
			}
		}
	}
}

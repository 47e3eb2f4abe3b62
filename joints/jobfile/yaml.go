package jobfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/joints"
	"fay/joints/jointfile"
)

// Read reads a job file. The error is [jointfile.Faults], everything wrong at
// once; a job that lists joints is returned all the same, each fault in the row
// or in the job that it belongs to.
func Read(name string, data []byte) (Job, error) {
	pairs, err := jointfile.ParseMapping(name, "job file", data)
	if err != nil {
		return Job{}, err
	}
	var (
		r    reader
		job  Job
		seen bool
	)
	known := []string{"job", "title", "joints"}
	for _, p := range pairs {
		switch p.Name {
		case "job":
			job.Name = r.text(p, maxLine)
		case "title":
			job.Title = r.text(p, maxLine)
		case "joints":
			seen = true
			job.Rows = r.rows(p)
		default:
			r.unknown(p, "", known)
		}
	}
	if !seen {
		r.fault(joints.FaultMissing, "joints", "", pairs[0].At, "a job file lists joints", "write joints: [{file: davit-foot.yaml, quantity: 4}]")
	}
	job.Faults = r.faults
	all := job.Faults
	for i := range job.Rows {
		all = append(all, job.Rows[i].Faults...)
	}
	if len(all) > 0 {
		return job, all
	}
	return job, nil
}

func (r *reader) unknown(p jointfile.Pair, group string, known []string) {
	remedy := "use one of " + strings.Join(known, ", ")
	if near := joints.Nearest(p.Name, known); near != "" && len(p.Name) <= longestShown {
		remedy = "did you mean " + near + "?"
	}
	r.fault(joints.FaultUnknown, group+p.Name, "", p.At, "is not a name that a job file has", remedy)
}

// text reads a name's value that is one line.
func (r *reader) text(p jointfile.Pair, longest int) string {
	switch p.Value.Kind {
	case jointfile.Scalar:
		return r.line(p.Name, p.Value.Text, p.Value.At, longest)
	case jointfile.Empty:
		r.fault(joints.FaultMissing, p.Name, "", p.At, "has no value", "write one after the colon, or delete the line")
	default:
		r.fault(jointfile.FaultShape, p.Name, "", p.Value.At, "one plain value belongs here", "write "+p.Name+": value")
	}
	return ""
}

const rowRemedy = "write {file: davit-foot.yaml, quantity: 4}"

func (r *reader) rows(p jointfile.Pair) []Row {
	switch {
	case p.Value.Kind != jointfile.List:
		r.fault(jointfile.FaultShape, p.Name, "", p.Value.At, "is a list of joints", "begin each with - and "+rowRemedy)
		return nil
	case len(p.Value.Items) == 0:
		r.fault(joints.FaultMissing, p.Name, "", p.At, "lists no joint", rowRemedy)
	case len(p.Value.Items) > MaxRows:
		r.fault(jointfile.FaultTooLarge, p.Name, "", p.At, fmt.Sprintf("lists more than %d joints", MaxRows), "split the job")
		return nil
	}
	rows := make([]Row, 0, len(p.Value.Items))
	for i := range p.Value.Items {
		var own reader
		row := own.row("joints."+strconv.Itoa(i+1), &p.Value.Items[i])
		row.Faults = own.faults
		rows = append(rows, row)
	}
	return rows
}

func (r *reader) row(field string, n *jointfile.Node) Row {
	row := Row{At: n.At}
	if n.Kind != jointfile.Mapping {
		r.fault(jointfile.FaultShape, field, n.Text, n.At, "needs names and values of its own", rowRemedy)
		return row
	}
	given := false
	for _, p := range n.Pairs {
		switch p.Name {
		case "file":
			given, row.At = true, p.Value.At
			row.File = r.text(p, maxPath)
			if p.Value.Kind == jointfile.Scalar && strings.TrimSpace(p.Value.Text) == "" {
				r.fault(joints.FaultMissing, field+".file", "", p.Value.At, "names no file", rowRemedy)
			}
		case "quantity":
			if text := r.text(p, maxLine); text != "" {
				row.Quantity = r.quantity(field+".quantity", text, p.Value.At)
			}
		case "set":
			if p.Value.Kind != jointfile.Mapping {
				r.fault(jointfile.FaultShape, field+".set", p.Value.Text, p.Value.At, "needs names and values of its own", "write set: {leg: 4}")
				continue
			}
			r.sets(&row, field+".set.", "", p.Value.Pairs)
		default:
			r.unknown(p, field+".", []string{"file", "quantity", "set"})
		}
	}
	if !given {
		r.fault(joints.FaultMissing, field+".file", "", n.At, "a joint of a job is a joint file", rowRemedy)
	}
	return row
}

// sets turns names and values, nested as in a joint file, into assignments.
func (r *reader) sets(row *Row, field, prefix string, pairs []jointfile.Pair) {
	for _, p := range pairs {
		r.set(row, field, prefix+p.Name, p.At, &p.Value)
	}
}

func (r *reader) set(row *Row, field, name string, at jointfile.Place, v *jointfile.Node) {
	switch {
	case v.Kind == jointfile.Scalar:
		row.Sets = append(row.Sets, Set{Name: name, Text: v.Text, At: v.At})
	case v.Kind == jointfile.Empty:
		r.fault(joints.FaultMissing, field+name, "", at, "has no value", `write one after the colon, or "" to take away what the file gives`)
	case v.Kind == jointfile.Mapping:
		r.sets(row, field, name+".", v.Pairs)
	case v.Kind == jointfile.List && len(v.Items) > 0 && v.Items[0].Kind == jointfile.Mapping:
		for i := range v.Items {
			r.set(row, field, name+"."+strconv.Itoa(i+1), at, &v.Items[i])
		}
	case v.Kind == jointfile.List && !slices.ContainsFunc(v.Items, func(n jointfile.Node) bool { return n.Kind != jointfile.Scalar || strings.Contains(n.Text, ",") }):
		words := make([]string, len(v.Items))
		for i := range v.Items {
			words[i] = v.Items[i].Text
		}
		row.Sets = append(row.Sets, Set{Name: name, Text: "[" + strings.Join(words, ", ") + "]", At: v.At})
	default:
		r.fault(jointfile.FaultShape, field+name, v.Text, v.At, "a plain value or a list of values without commas belongs here", "write "+name+": value")
	}
}

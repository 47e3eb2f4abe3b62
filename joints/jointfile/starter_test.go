package jointfile_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints"
	"fay/joints/jointfile"
)

func TestStarter(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			text := jointfile.Starter(k)
			doc := read(t, text)
			example := mustLine(t, k.Example)
			for name, plate := range example.Input.Plates {
				plate.Material = "EN AW-6082"
				example.Input.Plates[name] = plate
			}
			if d := cmp.Diff(example.Input, doc.Input); d != "" {
				t.Errorf("the starter is another joint than %q:\n%s", k.Example, text)
			}
			for _, p := range k.Params {
				if !strings.Contains(text, p.Name+": ") {
					t.Errorf("the starter does not name %s", p.Name)
				}
			}
			// Every commented value of the kind and of the file can be used:
			// take each # away in turn.
			lines := strings.Split(text, "\n")
			for n, line := range lines {
				name, ok := strings.CutPrefix(strings.TrimSpace(line), "# ")
				field, value, isPair := strings.Cut(name, ": ")
				if !ok || !isPair || strings.Contains(strings.TrimSpace(field), " ") || strings.HasPrefix(line, "#   ") || field == "yes" {
					continue
				}
				edited := append([]string(nil), lines...)
				edited[n] = strings.Replace(line, "# ", "", 1)
				_, err := jointfile.Read(jointfile.Source{Name: "s.yaml", Data: []byte(strings.Join(edited, "\n"))})
				for _, f := range jointfile.AsFaults(err) {
					if f.Code == joints.FaultSyntax || f.Code == joints.FaultUnknown || f.Code == jointfile.FaultShape || f.Code == joints.FaultRange {
						t.Errorf("line %d, %s = %s: %v", n+1, field, value, f)
					}
				}
			}
		})
	}
}

func TestStarterGroups(t *testing.T) {
	// The commented groups of a starter file read when uncommented whole.
	text := jointfile.Starter(&joints.Kinds[0])
	var out []string
	for line := range strings.SplitSeq(text, "\n") {
		switch {
		case strings.Contains(line, "around:"), strings.Contains(line, "axis:"): // exclude length
		case strings.HasPrefix(line, "# traveler:"), strings.HasPrefix(line, "# seam:"), strings.HasPrefix(line, "# filler:"), strings.HasPrefix(line, "#   "):
			line = line[2:]
		}
		out = append(out, line)
	}
	doc := read(t, strings.Join(out, "\n"))
	if doc.Traveler.Job == "" || doc.Runs == nil || doc.Filler.Type == "" {
		t.Errorf("groups were not read: %+v %+v %+v", doc.Traveler, doc.Seams, doc.Filler)
	}
}

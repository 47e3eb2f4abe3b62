package compare_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check/documents"
	"fay/joints/compare"
	"fay/joints/jointfile"
)

// Every preparation that suits a plate is a joint that can be made or does not
// fit it, in every kind that can be prepared; no row is lost.
func TestPreparations(t *testing.T) {
	prepared := 0
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		if _, ok := k.Param("prep"); !ok || len(k.Members) != 2 {
			continue
		}
		t.Run(k.Name, func(t *testing.T) {
			for _, family := range []string{"aluminium", "steel"} {
				for thickness := 2; thickness <= 40; thickness++ {
					rows := documents.Suits(geometry.Length(thickness), family, "gtaw")
					list, left := compare.Preparations(k, rows, plainly)
					counted := len(left)
					for _, c := range list {
						counted += strings.Count(c.Note, "; ") + 1
					}
					if counted < len(rows) {
						t.Errorf("%d mm %s: %d of %d rows", thickness, family, counted, len(rows))
					}
					names := map[string]bool{}
					for _, c := range list {
						if names[c.Name] {
							t.Errorf("%d mm: %s twice", thickness, c.Name)
						}
						names[c.Name] = true
						assignments := base(k, thickness, c.Assignments)
						doc, err := jointfile.Read(jointfile.Source{Kind: k.Name, Assignments: assignments})
						if err == nil {
							prepared++
							if doc.Section.DepositedArea() <= 0 {
								t.Errorf("%s takes no filler", strings.Join(assignments, " "))
							}
							continue
						}
						for _, f := range jointfile.AsFaults(err) {
							if f.Code == joints.FaultUnknown || f.Code == joints.FaultSyntax || f.Code == joints.FaultMissing {
								t.Errorf("%s (%s): %v", strings.Join(assignments, " "), c.Note, f)
							}
						}
					}
				}
			}
		})
	}
	if _, ok := joints.LookupKind("butt"); ok && prepared == 0 {
		t.Error("nothing could be prepared")
	}
}

// base is a joint of the kind with a preparation.
func base(k *joints.Kind, thickness int, prep []string) []string {
	var out []string
	for _, m := range k.Members {
		out = append(out, m.Name+"="+geometryText(thickness))
	}
	out = append(out, prep...)
	for _, p := range []string{"cap=0", "penetration=0"} {
		name, _, _ := strings.Cut(p, "=")
		if _, ok := k.Welds[0].Param(name); ok {
			out = append(out, p)
			break
		}
	}
	if slices.Contains(prep, "prep=square") && slices.Contains(out, "penetration=0") {
		out = append(out, "leg=3")
	}
	return out
}

func plainly(mm float64) string { return strconv.FormatFloat(mm, 'f', -1, 64) }

func geometryText(mm int) string {
	return compare.Show(float64(mm), compare.SweepSyntax{Form: jointfile.LengthForm})
}

func TestPreparationsOfUnpreparedKinds(t *testing.T) {
	k, _ := joints.LookupKind("lap")
	if list, left := compare.Preparations(k, documents.Suits(6, "steel", "gtaw"), plainly); len(list) != 0 || len(left) != 1 {
		t.Errorf("%v, %v", list, left)
	}
}

package layout_test

import (
	"strings"
	"testing"

	"fay/joints/jointfile"
	"fay/render"
)

// lines are joints of every kind as a person would write them, with the
// things that are hard to draw: unequal plates, fusion, backing, thin sheet,
// small features beside large ones.
var lines = []string{
	"butt left=8 right=5 prep=single-v groove-angle=70 root-face=1.5 root-opening=2 cap=1",
	"butt left=8 right=8 prep=single-v root-opening=2 root-face=1.5 arrow.cap=1.2 arrow.cap-lap=1 arrow.root=0.8 arrow.fusion=1",
	"butt left=16 right=16 prep=single-u root-opening=2 root-face=2 arrow.cap=1",
	"butt left=12 right=12 prep=double-v root-opening=2 root-face=2 arrow.cap=1 other.cap=1",
	"butt left=6 right=6 prep=single-bevel root-opening=5 backing=strip arrow.cap=1",
	"butt left=6 right=6 prep=single-v root-opening=4 backing=ceramic arrow.cap=1 arrow.root=1",
	"butt left=2 right=1.5 root-opening=1 arrow.cap=0.5 arrow.root=0.5",
	"butt left=10 right=10 prep=single-v depth=5 arrow.cap=1",
	"corner base=6 upright=4 face=convex rise=0.5",
	"corner base=6 upright=4 inside.leg=3 outside.face=convex outside.rise=0.4",
	"corner base=6 upright=6 cover=0.5 inside.leg=4 outside.face=flat",
	"edge left=3 right=4 penetration=2 cap=0.8",
	"flare-bevel base=6 round=12 cap=0.5 cap-lap=2.5",
	"flare-v left=3 right=3 left-section=bent right-section=bent throat=4",
	"plug lower=6 upper=4 diameter=14 cap=0.5",
	"plug lower=6 upper=5 diameter=10 countersink=60 gap=0.5 fusion=0.5",
	"cross base=8 upper=5 lower=4 arrow.leg=4 other.leg=4 lower-arrow.leg=3 lower-other.leg=3",
	"tee base=12 stem=10 prep=bevel arrow.leg=4 arrow.fusion=0.8 gap=2",
	"tee base=12 stem=10 prep=double-bevel arrow.leg=4 other.leg=4",
	"lap lower=1.2 upper=1 overlap=150 arrow.leg=1",
	"plug lower=8 upper=3 diameter=30 arrow.fusion=1 arrow.cap=0.5",
	"tee base=12 stem=12 prep=double-j root-radius=3 root-face=2 arrow.leg=3 other.leg=3 arrow.fusion=1 other.fusion=1",
	"corner base=8 upright=8 inside.leg=4 outside.fusion=1",
	"lap lower=3 upper=3 overlap=20 joggle=lower notch.cap=0.5",
}

func kindExamples(tb testing.TB) []example {
	tb.Helper()
	styles := [2]render.Style{render.ISO(), render.US()}
	var out []example
	for i, l := range lines {
		words := strings.Fields(l)
		doc, err := jointfile.Read(jointfile.Source{Kind: words[0], Assignments: words[1:]})
		if err != nil {
			tb.Errorf("%s: %v", l, err)
			continue
		}
		out = append(out, example{l, styles[i%5/4], doc.Section})
	}
	return out
}

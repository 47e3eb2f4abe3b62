package documents

import (
	"sync"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// sample is a joint that rules are shown on.
type sample struct {
	text  string // as a one-liner
	with  string // facts that a one-liner does not carry
	facts check.Facts
}

// samples builds the joints once, when somebody asks for an example.
var samples = sync.OnceValue(func() []sample {
	var out []sample
	add := func(text, with string, f check.Facts, s joints.Section, err error) {
		if err != nil {
			panic("documents: the example " + text + " cannot be built: " + err.Error()) // our own joints
		}
		f.Section = &s
		out = append(out, sample{text, with, f})
	}
	plate := func(t geometry.Length) joints.Plate { return joints.Plate{Thickness: t} }
	seam := joints.Some(180)

	s, err := joints.NewTee(joints.Tee{Base: plate(12), Stem: plate(8), Gap: 0.5, Arrow: joints.EqualFillet(5)})
	add("tee base=12 stem=8 gap=0.5 leg=5", "a seam of 180 mm", check.Facts{SeamLength: seam, Process: "gtaw"}, s, err)
	s, err = joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(4), Overlap: 30, Arrow: joints.EqualFillet(4)})
	add("lap lower=6 upper=4 overlap=30 leg=4", "a seam of 180 mm", check.Facts{SeamLength: seam}, s, err)
	s, err = joints.NewButt(joints.Butt{Left: plate(12), Right: plate(6), HiLo: 0.5, Prep: joints.PrepSingleV, RootFace: 1.6, RootOpening: 2, Transition: 3,
		Flank: joints.Flank{Bevel: [2]geometry.Angle{40 * geometry.Degree, 40 * geometry.Degree}},
		Arrow: &joints.Groove{Cap: 1, Root: 0.5}})
	add("butt left=12 right=6 hi-lo=0.5 prep=single-v groove-angle=80 root-face=1.6 root-opening=2 transition=3 cap=1 root=0.5", "", check.Facts{Process: "gtaw"}, s, err)
	s, err = joints.NewTee(joints.Tee{Base: plate(10), Stem: plate(8), Angle: 50 * geometry.Degree, Arrow: joints.EqualFillet(6)})
	add("tee base=10 stem=8 angle=50 leg=6", "horizontal, in one pass", check.Facts{Process: "smaw", Position: check.Horizontal, Passes: 1}, s, err)
	s, err = joints.NewTee(joints.Tee{Base: plate(12), Stem: plate(10), Prep: joints.PrepSingleBevel, Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 12}}})
	add("tee base=12 stem=10 prep=bevel leg=5,12", "", check.Facts{}, s, err)
	s, err = joints.NewButt(joints.Butt{Left: plate(10), Right: plate(6), Align: joints.AlignTop, Transition: 3,
		RootOpening: 2, Arrow: &joints.Groove{}})
	add("butt left=10 right=6 align=top root-opening=2 transition=3", "", check.Facts{}, s, err)
	s, err = joints.NewTee(joints.Tee{Base: plate(12), Stem: plate(8), Arrow: joints.EqualFillet(6)})
	add("tee base=12 stem=8 leg=6", "segments of 40 mm; measured: legs 6.5 and 7 mm, throat 4 mm, undercut 0.3 mm, run-over and lack of fusion none", check.Facts{
		SeamLength: seam, EffectiveLength: joints.Some(40),
		Measured: map[string]check.Measured{"arrow": {Legs: [2]joints.Opt{joints.Some(6.5), joints.Some(7)}, Throat: joints.Some(4),
			Undercut: joints.Some(0.3), RunOver: joints.Some(0), LackOfFusion: joints.Some(0)}}}, s, err)
	s, err = joints.NewTee(joints.Tee{Base: plate(12), Stem: plate(8), Arrow: joints.EqualFillet(6)})
	add("tee base=12 stem=8 leg=6", "measured: throat 5 mm", check.Facts{Measured: map[string]check.Measured{"arrow": {Throat: joints.Some(5)}}}, s, err)
	s, err = joints.NewButt(joints.Butt{Left: plate(6), Right: plate(6), RootOpening: 2, Arrow: &joints.Groove{Cap: 1}})
	add("butt left=6 right=6 root-opening=2 cap=1", "measured: root undercut 0.2 mm, underfill 0.1 mm, root concavity 0.2 mm, lack of penetration none", check.Facts{
		Measured: map[string]check.Measured{"arrow": {RootUndercut: joints.Some(0.2), Underfill: joints.Some(0.1), RootConcavity: joints.Some(0.2), LackOfPenetration: joints.Some(0)}}}, s, err)
	s, err = joints.NewButt(joints.Butt{Left: plate(25), Right: plate(25), Prep: joints.PrepSingleU, RootFace: 3, RootOpening: 2,
		Flank: joints.Flank{Bevel: [2]geometry.Angle{8 * geometry.Degree, 8 * geometry.Degree}, Radius: [2]geometry.Length{6, 6}}, Arrow: &joints.Groove{}})
	add("butt left=25 right=25 prep=single-u bevel-angle=8 root-face=3 root-opening=2 root-radius=6", "", check.Facts{}, s, err)
	s, err = joints.NewButt(joints.Butt{Left: plate(4), Right: plate(4), Prep: joints.PrepSingleV, RootFace: 1, RootOpening: 1,
		Flank: joints.Flank{Bevel: [2]geometry.Angle{35 * geometry.Degree, 35 * geometry.Degree}}, Arrow: &joints.Groove{}})
	add("butt left=4 right=4 prep=single-v groove-angle=70 root-face=1 root-opening=1", "", check.Facts{}, s, err)
	return out
})

// example shows a rule on the first joint that it compares something of, else on
// the first that it says something of.
func example(d *check.Document, r *check.Rule) *Example {
	one := []check.Document{{ID: d.ID, Title: d.Title, Rules: []check.Rule{*r}}}
	var second *Example
	list := samples()
	for i := range list {
		s := &list[i]
		for _, f := range check.Run(&s.facts, one) {
			e := &Example{Joint: s.text, With: s.with, Finding: f}
			switch {
			case f.Verdict == check.Met || f.Verdict == check.NotMet:
				return e
			case f.Verdict == check.CannotTell && second == nil:
				second = e
			}
		}
	}
	return second
}

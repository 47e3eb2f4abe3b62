package layout_test

import (
	"testing"

	"fay/joints"
	"fay/render"
)

func kindExamples(tb testing.TB) []example {
	tb.Helper()
	iso := render.ISO()
	ok := func(s joints.Section, err error) joints.Section {
		tb.Helper()
		if err != nil {
			tb.Fatal(err)
		}
		return s
	}
	return []example{
		{"butt-v", iso, ok(joints.NewButt(joints.Butt{Left: plate(8), Right: plate(8), Prep: joints.PrepSingleV, RootOpening: 2, RootFace: 1.5,
			Arrow: &joints.Groove{Cap: 1.2, CapLap: 1, Root: 0.8}}))},
		{"butt-uneven", iso, ok(joints.NewButt(joints.Butt{Left: plate(10), Right: plate(6), Prep: joints.PrepSingleV, RootOpening: 2, RootFace: 1,
			Transition: 3, Arrow: &joints.Groove{Cap: 1}}))},
		{"butt-j", iso, ok(joints.NewButt(joints.Butt{Left: plate(16), Right: plate(16), Prep: joints.PrepSingleJ, RootOpening: 2, RootFace: 2,
			Arrow: &joints.Groove{Cap: 1}}))},
		{"corner", iso, ok(joints.NewCorner(joints.Corner{Base: plate(6), Upright: plate(4), Outside: &joints.Fillet{Face: joints.FaceConvex, Rise: 0.5}, Inside: joints.EqualFillet(3)}))},
	}
}

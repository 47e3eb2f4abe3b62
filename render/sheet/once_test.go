package sheet

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"
	"fay/joints/jointstest"
	"fay/render"
)

// drawn is what a fill puts on paper, and what it notes.
type drawn struct {
	Items []render.Item
	Rooms []float64
	Cut   bool
	Notes []string
}

func drawnOf(c *composer, z *zones, f *fill) drawn {
	q := &pen{style: &c.style}
	var rooms []float64
	for _, list := range slices.Concat([][]block{f.foot, f.corner, f.column}, f.under) {
		for i := range list {
			list[i].draw(q, 0, 0, f.width)
			rooms = append(rooms, list[i].full())
		}
	}
	return drawn{q.items, append(rooms, f.figureRoom(z)), f.cut, c.notes}
}

// Blocks that were set before, in another spacing and with other notes, are as
// those set afresh.
func TestBlocksSetBeforeAreTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for n := range 30 {
		sec, in, ok := jointstest.Section(&joints.Kinds[n%len(joints.Kinds)], rng)
		if !ok {
			t.Fatal("no joint")
		}
		job := &Job{Section: &sec, Part: strings.Repeat("a long part ", n%9), Digest: "0123456789abcdef", Notes: []string{"a note"},
			Materials: []Line{{"base", "6082"}}, Filler: []Line{{"seam", strings.Repeat("long ", n)}, {strings.Repeat("label ", n%20), "7"}},
			Heat: []Line{{"share", "60 %"}}, HoldPoints: []Line{{"etch", strings.Repeat("look ", n%12)}}}
		for i := range sec.Welds {
			job.Passes = append(job.Passes, Passes{sec.Welds[i].ID, 1 + i + n%3})
		}
		kind, _ := joints.LookupKind(in.Kind)
		for _, name := range fitup.Parameters(kind) {
			if table, ok, err := fitup.NewTable(in, fitup.Spec{Parameter: name, Openings: fitup.BenchOpenings(0, 0.3, geometry.UnitMM)}); ok && err == nil {
				job.FitUp = append(job.FitUp, GapTable{Table: table})
			}
		}
		for _, p := range (Options{}).papers() {
			used := newComposer(job, Options{}, p)
			z := used.zones()
			for _, with := range []func(c *composer){
				func(*composer) {},
				func(c *composer) { c.unplaced, c.homeless = sec.Measures[:1], true },
				func(c *composer) { c.closing = true },
				func(c *composer) { c.homeless = false },
			} {
				with(used)
				for _, sp := range spacings {
					fresh := newComposer(job, Options{}, p)
					fresh.unplaced, fresh.homeless, fresh.closing = used.unplaced, used.homeless, used.closing
					want, got := drawnOf(fresh, &z, fresh.fill(&z, sp)), drawnOf(used, &z, used.fill(&z, sp))
					if diff := cmp.Diff(want, got, cmp.AllowUnexported(geometry.Edge{})); diff != "" {
						t.Fatalf("joint %d, %+v (-want +got)\n%s", n, sp, diff)
					}
				}
			}
		}
	}
}

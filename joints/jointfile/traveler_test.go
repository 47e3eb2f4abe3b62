package jointfile_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints/jointfile"
)

// TestRevisionLine reads what a revision is about, from a file and from a line,
// and finds that every part of it gives another digest.
func TestRevisionLine(t *testing.T) {
	const joint = "joint: tee\nbase: 8\nstem: 3\nleg: 3\n"
	doc := read(t, joint+"traveler: {revision: B, changed: 2026-03-09, reason: wider gap, revised-by: R. Poole}\n")
	want := jointfile.Traveler{Revision: "B", Changed: "2026-03-09", Reason: "wider gap", RevisedBy: "R. Poole"}
	if diff := cmp.Diff(want, doc.Traveler); diff != "" {
		t.Errorf("from a file (-want +got):\n%s", diff)
	}
	line, err := jointfile.Read(jointfile.Source{Kind: "tee", Assignments: []string{"base=8", "stem=3", "leg=3",
		"traveler.revision=B", "traveler.changed=2026-03-09", "traveler.reason=wider gap", "traveler.revised-by=R. Poole"}})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(doc.Traveler, line.Traveler); diff != "" {
		t.Errorf("from a line (-file +line):\n%s", diff)
	}
	if doc.Digest != line.Digest {
		t.Error("file and line say the same but have different digests")
	}
	seen := map[string]string{read(t, joint).Digest: "nothing"}
	for _, part := range []string{"revision: B", "changed: 2026-03-09", "reason: B", "revised-by: B"} {
		digest := read(t, joint+"traveler: {"+part+"}\n").Digest
		if other, ok := seen[digest]; ok {
			t.Errorf("%s has the digest of %s", part, other)
		}
		seen[digest] = part
	}
}

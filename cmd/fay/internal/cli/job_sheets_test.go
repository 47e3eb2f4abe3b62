package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fay/render/rendertest"
)

// TestJobSheetsAreCountedThrough reads the numbers off the sheets of a job: the
// cover's list and the title blocks count the file's sheets, one after the other.
func TestJobSheetsAreCountedThrough(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.pdf")
	var talk bytes.Buffer
	if code := Main([]string{"job", "../../../../testdata/examples/jobs/hatch-set.yaml", "-o", path},
		Env{Stdout: &talk, Stderr: &talk, ConfigDir: t.TempDir()}); code != 0 {
		t.Fatal(talk.String())
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimSuffix(rendertest.PDFText(t, data), "\f"), "\f")
	for i, page := range pages {
		if want := fmt.Sprintf("%d of %d", i+1, len(pages)); !strings.Contains(page, want) {
			t.Errorf("sheet %d does not say %q", i+1, want)
		}
	}
	for _, want := range []string{"checked: ISO 5817:2014 level C", "ISO 5817:2014 level C is not written for aluminium: joints 1, 2"} {
		if !strings.Contains(pages[0], want) {
			t.Errorf("the cover does not say %q: %s", want, pages[0])
		}
	}
	// The last joint stands on the last sheet, and the cover says so.
	list := strings.Fields(strings.Split(pages[0], "short tread")[1])
	if want := fmt.Sprint(len(pages)); !strings.Contains(strings.Join(list[:16], " "), want) {
		t.Errorf("the cover does not say that the last joint is on sheet %s: %v", want, list[:16])
	}
}

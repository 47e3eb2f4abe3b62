package cli

import (
	"strings"
	"testing"
)

// TestTailNamesTheQualityStandard draws a joint that asks for a level: the tail
// of its symbol names process and level with the standard of the level.
func TestTailNamesTheQualityStandard(t *testing.T) {
	for check, want := range map[string]string{"iso-5817-2014/C": `"141 / ISO 5817-C"`, "iso-10042/B": `"141 / ISO 10042-B"`, "aisc-360-16": `"141"`} {
		var out, talk strings.Builder
		code := Main([]string{"draw", "tee", "base=8", "stem=6", "leg=5", "--to", "json"},
			Env{Stdout: &out, Stderr: &talk, ConfigDir: t.TempDir(), Environ: []string{"FAY_CHECKS=" + check}})
		if code != 0 {
			t.Fatal(talk.String())
		}
		if !strings.Contains(out.String(), want) {
			t.Errorf("%s: the symbol does not say %s", check, want)
		}
	}
}

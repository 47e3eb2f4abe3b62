package joints

import (
	"regexp"
	"strings"
	"testing"
)

// The descriptions stand in sentences: "thickness and material of the …" and,
// behind a name, one that begins small and ends without a full stop.
func TestDescriptionsRead(t *testing.T) {
	verb := regexp.MustCompile(`(^|, )(lies|stands|is|has|runs|ends|meets)\b`)
	for i := range Kinds {
		k := &Kinds[i]
		told := func(what, text string) {
			if text == "" || strings.HasSuffix(text, ".") || strings.Contains(text, "  ") {
				t.Errorf("%s %s: %q does not stand in a sentence", k.Name, what, text)
			}
		}
		told("kind", k.Doc)
		for _, m := range k.Members {
			told(m.Name, m.Doc)
			if verb.MatchString(m.Doc) {
				t.Errorf("%s: \"thickness and material of the %s\" is no sentence", k.Name, m.Doc)
			}
		}
		for _, p := range k.Params {
			told(p.Name, p.Doc)
		}
		for _, w := range k.Welds {
			told(w.ID, w.Doc)
			for _, p := range w.Params {
				told(w.ID+"."+p.Name, p.Doc)
			}
		}
	}
}

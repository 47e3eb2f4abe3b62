package render

import "testing"

func TestMarked(t *testing.T) {
	n := ISO().Numbers
	for text, want := range map[string]string{
		"single-u 17.5°, R 1.75, face 4.5":                         "single-u 17,5°, R 1,75, face 4,5",
		"leg=4.5mm leg=0.75t":                                      "leg=4,5mm leg=0,75t",
		"t = 9.43 mm: below it one takes less":                     "t = 9,43 mm: below it one takes less",
		"sizes count as read, to ±0.1 mm":                          "sizes count as read, to ±0,1 mm",
		"1.5 2.5 (-0.3).":                                          "1,5 2,5 (-0,3).",
		"not met: aisc-360-16/J2.4, aws-d1.1-reported/minimum-leg": "not met: aisc-360-16/J2.4, aws-d1.1-reported/minimum-leg",
		"O. W. Blodgett, 1966, section 7.7; from memory":           "O. W. Blodgett, 1966, section 7.7; from memory",
		"steel 1.4301, EN 1993-1-8 4.5.2":                          "steel 1.4301, EN 1993-1-8 4.5.2",
		"macro 1.5.jpg":                                            "macro 1.5.jpg",
		"D1.1 and foot-1.5.yaml":                                   "D1.1 and foot-1.5.yaml",
		"no number":                                                "no number",
	} {
		if got := n.Marked(text); got != want {
			t.Errorf("%q comes out as %q, want %q", text, got, want)
		}
		if got := US().Numbers.Marked(text); got != text {
			t.Errorf("with a point %q comes out as %q", text, got)
		}
	}
}

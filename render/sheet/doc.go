// Package sheet composes the sheets that go to the bench. Compose makes the
// traveler: the dimensioned section at a standard scale, the weld's numbers,
// what the fitter may leave and lays for it, what to feed, what the rules say,
// what can hurt, and boxes to sign. Figure draws the section alone, Together
// several side by side, and Gauge the weld at full size to cut out.
//
// A traveler is one sheet where the weld reads well on it. Tables give way
// first: they move closer together, then into three columns; then the section
// takes a smaller scale; then tables go to a second sheet. A text that a box
// cannot hold is cut short there and stands in the notes in full.
//
// Nothing is computed here. Numbers are the model's, formatted; texts are the
// job's; the words between them come from the wording tables here and of
// package render. The same job gives the same display list.
package sheet

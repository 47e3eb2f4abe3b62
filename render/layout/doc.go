// Package layout places the dimensions of a section on paper. It takes the
// measures the model hands over, builds for each the ways a drafter would
// dimension it, and keeps the cheapest one that touches nothing it must not
// touch. It decides where things stand, never what number they carry.
//
// The rules, in the order of their weight: no text touches another text or any
// line; no dimension line runs through a text; dimension lines cross neither
// each other nor, if it can be helped, extension lines; text and arrows stay
// out of the material; short dimensions stand nearer the part; stacked
// dimension lines keep equal distances. When text does not fit, first the
// arrows and then the text move outside. A leg is dimensioned on the side of its
// weld; what both sides have in common is dimensioned once. A welding symbol
// points at its weld from where nothing else stands. A measure or a symbol that
// finds no place, or only one among crossing lines, is handed back for the
// tables: the layout never fails.
//
// One view is preferred to a view with details, and a clear view to a larger
// one that is full. The search is bounded by the number of places it looks at.
//
// Coordinates are mm on paper, the origin of the section plane on the origin
// of the paper, until a view is moved to its place on the sheet.
package layout

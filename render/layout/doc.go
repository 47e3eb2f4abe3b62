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
// arrows and then the text move outside. A measure that finds no place at all
// is handed back for the tables: the layout never fails.
//
// Coordinates are mm on paper, the origin of the section plane on the origin
// of the paper, until a view is moved to its place on the sheet.
package layout

// Package overlay draws a cut-and-etch record over its plan, at one scale: the
// plan in narrow long-dash-double-dot lines, as ISO 128-2 draws an alternative
// state (secondary), what was measured in wide solid ones, the differences
// dimensioned, and the table of the items under them.
//
// Nothing is computed here: numbers are the report's, formatted.
package overlay

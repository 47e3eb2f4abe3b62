// Package render turns a joint's section into a neutral drawing: a display
// list of strokes, fills and texts in millimetres on the sheet, origin at the
// lower left corner, x to the right, y up. Writers (packages svg, pdf, png and
// dxf below this one) turn the list into files; nothing in the list depends on
// a writer, and the list itself is what golden tests compare.
//
// Every number lettered on a drawing is handed over by the model. Nothing here
// measures a distance on paper and prints it.
package render

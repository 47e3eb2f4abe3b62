// Package plot draws small diagrams in the drafting manner as display lists:
// curves over two axes, points with their bars, horizontal bars. Curves differ
// by their dashes and carry their labels beside them; colour means nothing.
//
// Data come in the units of the axes. A diagram fills a box on the sheet, or a
// sheet of its own with a title over it and notes under it. Every text is
// measured before it is placed and stands clear of all lines and of all other
// texts; a label that finds no place moves to a key under the diagram.
package plot

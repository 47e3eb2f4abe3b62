// Package heatmap draws the section of a joint with its peak temperatures: the
// outline predicted to fuse, isotherms labelled on their lines, the aim, and how
// the two members share the heat.
//
// The drawing reads in black and white: isotherms differ by their dashes and
// carry their temperature, the fused outline is the only wide line that is no
// edge of a plate. Nothing is computed here; what is drawn is the mesh and the
// temperatures of package heat.
package heatmap

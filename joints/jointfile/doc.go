// Package jointfile reads a joint as a person writes it: a strict YAML file,
// assignments such as `leg=3 gap=0.3`, or a file with assignments over it.
//
// The names are those of the kind table in package joints, the same in files
// and assignments. Short forms: a member's name stands for its thickness, a
// weld's parameter without a weld for the first weld of the kind, a weld's id
// for the weld itself (`other.leg` for `welds.other.leg`), and `sides: both`
// gives the first weld's values to the second one too. In an assignment an
// empty value takes away what the file gave, and a value takes the place of the
// file's values that exclude it.
//
// A part has one seam, `seam: {length: 180}`, or several,
// `seams: [{length: 180}, {around: 60, welds: [arrow]}]`. In assignments and in
// faults they are counted from 1: `seams.2.length=90`. The first one answers to
// `seam.length` as well as to `seams.1.length`.
//
// Lengths are in the unit they carry. A bare number takes the unit of its own
// source: `units` in the file for the file's numbers, `units=` among the
// assignments for theirs, then the file's, then the caller's.
//
// A fault names the line and column, or the argument, it stands at; all faults
// of an input are reported together, those of building the section included.
package jointfile

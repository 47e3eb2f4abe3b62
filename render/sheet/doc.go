// Package sheet composes the traveler: the sheet that goes with a job to the
// bench. It carries the dimensioned section at a standard scale, the weld's
// numbers, what the fitter may leave, what to feed, what the rules say, what
// can hurt, and boxes to sign.
//
// Nothing is computed here. Numbers are the model's, formatted; texts are the
// job's; the words between them come from the wording table of package render.
// The same job gives the same display list.
package sheet

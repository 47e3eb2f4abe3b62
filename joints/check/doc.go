// Package check compares a joint with published rules and reports findings.
//
// A [Document] is one edition of a standard, or one report of it, and a package
// of its own below this one; a clause is a file there and yields [Rule]s. The
// table of all documents is joints/check/documents. Several documents, and
// several editions of one, may serve a single run.
//
// # Numbers and units
//
// Provided and required values are in the unit a [Finding] names: lengths
// always in mm. Documents that print millimetres beside inches are read in the
// column of [Facts.Units]; the text of steps and remedies is in that unit too,
// unless [Facts.Converted].
//
// # What a finding is worth
//
// A rule says where its values come from ([Provenance]). A value remembered and
// not checked is compared and printed like any other, but never fails a joint
// by itself: see [Finding.Failure].
package check

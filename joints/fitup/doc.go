// Package fitup answers the fitter: what a gap or root opening does to the
// weld, and how many joints fall short when every toleranced value wanders
// inside its tolerance.
//
// Nothing here has a formula of its own for throats or areas: every number
// comes from building the joint again with the value in question.
package fitup

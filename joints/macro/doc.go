// Package macro is the record of a weld that was cut, polished and etched: the
// sizes measured on the section, compared with the plan, its tolerances and the
// rule documents, and kept in a log.
//
// A record is a strict YAML file or assignments such as `legs=3.1,2.9
// throat=2.2`. In place of legs, throat and convexity it may give points on the
// two member surfaces and on the face, in any unit, turned and mirrored as the
// photograph is; `scale` says how many millimetres one unit is.
//
// Sizes are those of a [joints.Weld]: legs run from the intersection of the
// member surfaces to the toe; the throat is the shortest distance from the weld
// root to the real face, convexity and penetration included; penetration is
// measured along the faying surface and negative where the root was not
// reached; convexity is negative for a hollow face. Member a is the first foot of
// the weld (the continuous or left member), b the second one.
//
// Nothing here says that a weld is safe: it says how far it came out as planned.
package macro

// Package lettering sets one line of drafting lettering: it measures a text,
// gives its outlines, and says which characters it cannot draw. Layout and
// every writer use the same lines, so what was measured is what is drawn.
//
// Sizes are the height of a capital in millimetres, the nominal height of
// ISO 3098. A line lies with its start on the origin, base line along x, y up.
//
// The main faces are B612 Regular and Bold (SIL Open Font License 1.1), made to
// be read at arm's length: open figures that are hard to take for one another.
// Characters they lack come from DejaVu Sans Condensed,
// scaled to the same capital height. A character neither has is drawn as
// U+FFFD, never left out, and Missing names it. Fonts are embedded as published
// (licences beside them) and parsed on first use, each face on its own.
package lettering

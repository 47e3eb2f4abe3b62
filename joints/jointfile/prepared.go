package jointfile

import (
	"strings"

	"fay/joints"
)

// weldPrepared gives a prepared joint its welds where nothing is said of any: the
// groove that is filled flush, on both sides of a double preparation.
func weldPrepared(kind *joints.Kind, in *joints.Input) {
	prep := in.Values["prep"].Choice
	if len(in.Welds) > 0 || prep == "" || prep == "none" || prep == string(joints.PrepSquare) {
		return
	}
	in.Welds[kind.Welds[0].ID] = map[string]joints.Value{}
	if strings.HasPrefix(prep, "double-") {
		in.Welds[kind.Welds[1].ID] = map[string]joints.Value{}
	}
}

package config

// ArcProcess is a process as the heat of its arc is told apart: as [Process],
// but TIG on alternating current and on direct current are two, and plasma is
// one more.
type ArcProcess string

// The arcs that a [Process] does not name.
const (
	ArcTIGAC  ArcProcess = "gtaw-ac"   // alternating current, as on aluminium
	ArcTIGDC  ArcProcess = "gtaw-dcen" // electrode negative
	ArcPlasma ArcProcess = "paw"
)

// ArcProcesses lists the arcs in print order.
func ArcProcesses() []ArcProcess {
	out := []ArcProcess{ArcTIGAC, ArcTIGDC, ArcPlasma}
	for _, p := range Processes() {
		if p != GTAW {
			out = append(out, ArcProcess(p))
		}
	}
	return out
}

func arcNames() []string {
	list := ArcProcesses()
	names := make([]string, 0, len(list))
	for _, p := range list {
		names = append(names, string(p))
	}
	return names
}

// arcWords are the trade names of arcs besides those of processes; the number
// is that of ISO 4063, from memory, unverified.
var arcWords = map[string]ArcProcess{
	"tigac": ArcTIGAC, "gtawac": ArcTIGAC, "ac": ArcTIGAC,
	"tigdc": ArcTIGDC, "gtawdcen": ArcTIGDC, "gtawdc": ArcTIGDC, "dcen": ArcTIGDC,
	"plasma": ArcPlasma, "paw": ArcPlasma, "15": ArcPlasma,
}

// ParseArcProcess reads an arc (tig-ac, gtaw-dcen, plasma) or a process as
// [ParseProcess] does. TIG without its current comes out as gtaw, which is
// none of [ArcProcesses]: the metal decides.
func ParseArcProcess(text string) (ArcProcess, error) {
	if p, ok := arcWords[fold(text)]; ok {
		return p, nil
	}
	p, err := ParseProcess(text)
	if err != nil {
		return "", unknownName("process", text, arcNames())
	}
	return ArcProcess(p), nil
}

// Process is the process that speeds and passes are on file for; plasma runs
// as TIG does.
func (p ArcProcess) Process() Process {
	switch p {
	case ArcTIGAC, ArcTIGDC, ArcPlasma:
		return GTAW
	}
	return Process(p)
}

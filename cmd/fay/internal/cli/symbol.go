package cli

import (
	"slices"
	"strings"

	"fay/config"
	"fay/joints"
	"fay/render/symbol"
)

// symbol is what the welding symbols of the joint say beyond its section.
func (j *job) symbol() symbol.Options {
	system := symbol.System(j.settings.Symbols)
	return symbol.Options{
		System: system, Throat: j.sizedByThroat(),
		Tail: symbol.Tail{Process: j.processWord(system), Level: j.qualityLevel(system)},
	}
}

// processWord is how the tail of a welding symbol names the process: letters
// with AWS A2.4, the number of ISO 4063 with ISO 2553 (numbers from memory,
// unverified).
func (j *job) processWord(system symbol.System) string {
	p, err := config.ParseProcess(j.doc.Filler.Process)
	if err != nil {
		p = j.settings.Process
	}
	if system == symbol.AWS {
		return strings.ToUpper(string(p))
	}
	if p == config.GTAW {
		return "141"
	}
	return ""
}

// sizedByThroat tells whether the joint gives its fillets by their throat, so
// that ISO 2553 writes a and not z. Where a gap sets the throat of the joint
// apart from that of the fillet, one letter could mean either: the leg is plain.
func (j *job) sizedByThroat() bool {
	given := false
	for _, values := range j.doc.Input.Welds {
		_, ok := values["throat"]
		given = given || ok
	}
	return given && !slices.ContainsFunc(j.doc.Section.Welds, func(w joints.Weld) bool { return w.Gap > 0 })
}

// qualityLevel is the level of ISO 5817 or ISO 10042 that was asked for, as ISO
// 2553 writes it in the tail (ISO 5817-C; from memory, unverified); none where
// there are several.
func (j *job) qualityLevel(system symbol.System) string {
	if system == symbol.AWS {
		return ""
	}
	checks := j.doc.Checks
	if len(checks) == 0 {
		checks = j.settings.Checks
	}
	var levels []string
	for _, id := range checks {
		document, level, ok := strings.Cut(strings.ToLower(id), "/")
		for _, number := range [...]string{"5817", "10042"} {
			if ok && strings.HasPrefix(document, "iso-"+number) {
				levels = append(levels, "ISO "+number+"-"+strings.ToUpper(level))
			}
		}
	}
	slices.Sort(levels)
	if levels = slices.Compact(levels); len(levels) == 1 {
		return levels[0]
	}
	return ""
}

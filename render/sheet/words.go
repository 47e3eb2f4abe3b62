package sheet

import "fay/render"

// words are the terms of the sheet that no drawing needs: the US term, then
// the ISO term.
var words = map[string][2]string{
	"set":                {"set to", "set to"},
	"legs":               {"legs", "legs"},
	"leg":                {"leg", "leg"},
	"measure.edge-angle": {"bevel angle", "bevel angle"},
	"table.legs":         {"Legs to lay by", "Legs to lay by"},
	"upto":               {"up to", "up to"},
	"plan":               {"plan", "plan"},
	"not.met":            {"not met", "not met"},
	"over":               {"over", "over"},
	"closed":             {"close the joint", "close the joint"},
	"whole.edge":         {"* the whole edge: no more room for the leg", "* the whole edge: no more room for the leg"},
	"area.deposited":     {"filler area", "filler area"},
	"homeless":           {"No room for a welding symbol beside the section: the tables say the same", "No room for a welding symbol beside the section: the tables say the same"},
	"symbol.room":        {"No room for the welding symbol", "No room for the welding symbol"},
	"symbol.rooms":       {"No room for # of the welding symbols", "No room for # of the welding symbols"},
	"symbol.none":        {"No welding symbol", "No welding symbol"},
	"table.heat":         {"Heat", "Heat"},
	"table.passes":       {"Passes, a sketch", "Passes, a sketch"},
	"passes":             {"passes", "passes"},
	"lot":                {"heat or lot no.", "heat or lot no."},

	"check":               {"check", "check"},
	"checked":             {"Checked", "Checked"},
	"idle":                {"Says nothing of this joint", "Says nothing of this joint"},
	"not.for":             {"Checked, though not written for", "Checked, though not written for"},
	"checks":              {"checks", "checks"},
	"summary.met":         {"met", "met"},
	"summary.failed":      {"not met", "not met"},
	"summary.none":        {"none failed", "none failed"},
	"summary.cannot tell": {"cannot be told from what is given", "cannot be told from what is given"},
	"summary.no":          {"do not apply", "do not apply"},
	"summary.one no":      {"does not apply", "does not apply"},
	"summary.nothing":     {"No check applies to this joint.", "No check applies to this joint."},

	"field.changed": {"Changed on", "Changed on"},
	"field.reason":  {"Reason", "Reason"},
	"field.by":      {"By", "By"},

	"gauge":        {"Weld gauge", "Weld gauge"},
	"gauge.how":    {"Print at 100 %, measure both check bars, then cut along the outlines. A gauge of paper shows the shape; it proves no size.", "Print at 100 %, measure both check bars, then cut along the outlines. A gauge of paper shows the shape; it proves no size."},
	"several":      {"Several joints", "Several joints"},
	"caution.look": {"Pictures for comparing, no traveler.", "Pictures for comparing, no traveler."},
}

// word gives a term of the sheet, else that of the drawing style.
func word(s *render.Style, key string) string {
	w, ok := words[key]
	if !ok {
		return s.Word(key)
	}
	if s.Language == render.LanguageUS {
		return w[0]
	}
	return w[1]
}

package config

import "strings"

// templateHead opens the starter file.
const templateHead = `# Settings for fay.
#
# Settings are the lines with a # right before the first letter or dash: remove
# that # to change one. What stays commented keeps the default shown.
# Stronger than this file: the variable named beside a key, then a flag.
`

// examples are starter lines for keys whose default is empty.
var examples = map[string]string{
	"company":       `#company: Lock Street boat yard`,
	"logo":          `#logo: mark.svg`,
	"filler.type":   `  #type: 5183`,
	"filler.pack":   `  #pack: 5kg`,
	"cost.currency": `  #currency: EUR`,
	"cost.labour":   `  #labour: 46`,
	"cost.gas":      `  #gas: 12.50`,
	"processes": `#processes:
  #- process: gtaw
    #travel-speed: 120 mm/min
    #pass-area: 16 mm2
    #gas-flow: 9 L/min
    #source: own trials`,
	"machine": `#machine: bench TIG`,
	"machines": `#machines:
  #- name: bench TIG
    #current: 250 A
    #load-line: 10 + 0.03 I
    #source: clamp meter`,
	"calibrations": `#calibrations:
  #- machine: bench TIG
    #process: gtaw-ac
    #sections: 4
    #efficiency: 0.56
    #efficiency-range: 0.50..0.62
    #spot: 1.8 mm
    #spot-range: 1.5..2.2 mm
    #source: davit foot, arrow weld`,
	"prices": `#prices:
  #- filler: 5183
    #diameter: 2.4mm
    #pack: 2.5kg
    #price: 49.00`,
	"checks": `#checks: [aisc-360-16, iso-5817-2014/C]`,
	"limits": `#limits:
  #- of: iso-10042/C/503
    #base: 1.5
    #factor: 0.15
    #size: width
    #most: 4
    #note: agreed with the surveyor`,
	"fillers": `#fillers:
  #- name: 5183
    #density: 2.66
    #source: maker's data sheet
  #- name: house rod
    #like: 5356
    #density: 2.64 g/cm3`,
	"materials": `#materials:
  #- name: hatch plate
    #like: 5083
    #density: 2.65
    #conductivity: 128 W/mK
    #liquidus: 638 C`,
}

// Template returns a commented starter settings file. As it stands it changes
// nothing; with every # before a setting removed it is valid.
func Template() string {
	var b strings.Builder
	b.WriteString(templateHead)
	section := ""
	for _, k := range keys {
		b.WriteString("\n")
		parent, word, nested := strings.Cut(k.name, ".")
		if nested && parent != section {
			section = parent
			b.WriteString("#" + parent + ":\n")
		}
		indent := ""
		if nested {
			indent = "  "
		} else {
			word = k.name
		}
		for _, line := range k.doc {
			b.WriteString("# " + line + "\n")
		}
		if env := k.env(); env != "" {
			b.WriteString("# (" + env + ")\n")
		}
		if example, ok := examples[k.name]; ok {
			b.WriteString(example + "\n")
		} else {
			b.WriteString(indent + "#" + word + ": " + k.preset + "\n")
		}
	}
	return b.String()
}

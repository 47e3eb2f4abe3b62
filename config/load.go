package config

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"github.com/spf13/viper"
)

// Options says where settings are looked for.
type Options struct {
	// File is the settings file to read in place of the user's own; it must
	// exist. Empty: the user's own, which may be missing.
	File string
	// Dir is the user's configuration folder. Empty: os.UserConfigDir; where
	// that has no answer there is no file.
	Dir string
	// Environ holds NAME=value pairs. Nil: the environment of the process.
	Environ []string
	// Overrides are explicit choices, strongest; a later one wins.
	Overrides []Override
	// Documents are the rule documents on file, to judge `checks` by. Nil:
	// only the form of a document name is judged.
	Documents []string
}

// Override is one explicit choice, such as a flag.
type Override struct {
	Key   string // filler.type
	Value string // lists with commas
	Name  string // what to call its origin, such as --sheet
}

// Entry is one setting as it came out, for printing.
type Entry struct {
	Key    string
	Value  string
	Origin Origin
	Env    string // variable that sets it; empty where none does
	Doc    string
}

// Loaded is settings with the origin of each value.
type Loaded struct {
	Settings Settings
	Entries  []Entry // every key, in print order
	File     string  // the file read; empty when there was none
	Warnings Faults  // worth telling, not worth stopping for
}

// Origin returns where the value of a key comes from; false for no such key.
func (l Loaded) Origin(key string) (Origin, bool) {
	for _, e := range l.Entries {
		if e.Key == key {
			return e.Origin, true
		}
	}
	return Origin{}, false
}

// DefaultFile returns the path of the user's own settings file under dir, or
// under os.UserConfigDir where dir is empty.
func DefaultFile(dir string) (string, error) {
	if dir == "" {
		var err error
		if dir, err = os.UserConfigDir(); err != nil {
			return "", fmt.Errorf("no configuration folder for settings: %w", err)
		}
	}
	return filepath.Join(dir, "fay", "settings.yaml"), nil
}

// Load reads the settings of all layers. The error is Faults, everything wrong
// at once; Loaded is then empty.
func Load(opts Options) (Loaded, error) {
	path, required := opts.File, true
	if path == "" {
		// No folder is the same as no file: the defaults serve.
		path, _ = DefaultFile(opts.Dir)
		required = false
	}
	var data []byte
	if path != "" {
		var fault *Fault
		if data, fault = readFile(path, required); fault != nil {
			return Loaded{}, Faults{*fault}
		}
		if data == nil {
			path = ""
		}
	}
	return load(path, data, opts)
}

// load merges the layers; data is the text of the settings file at path.
func load(path string, data []byte, opts Options) (Loaded, error) {
	fileLayer, faults := parseSettings(path, data)
	environ := opts.Environ
	if environ == nil {
		environ = os.Environ()
	}
	envLayer, warnings := parseEnviron(environ)
	overrideLayer, overrideFaults := parseOverrides(opts.Overrides)
	faults = append(faults, overrideFaults...)

	v := viper.New()
	places := map[string]place{}
	for _, k := range keys {
		v.SetDefault(k.name, presetOf(k))
		places[k.name] = place{}
	}
	for _, layer := range []layerValues{fileLayer, envLayer} {
		if err := v.MergeConfigMap(layer.values); err != nil {
			return Loaded{}, internalFault(path, err)
		}
	}
	for _, layer := range []layerValues{fileLayer, envLayer, overrideLayer} {
		for name, at := range layer.places {
			if at.origin.Layer > LayerFile {
				dropItems(places, name)
			}
			places[name] = at
		}
	}
	for name := range overrideLayer.places {
		v.Set(name, lookUp(overrideLayer.values, name))
	}
	var r raw
	if err := v.UnmarshalExact(&r); err != nil {
		return Loaded{}, internalFault(path, err)
	}
	j := &judge{raw: r, places: places, documents: opts.Documents, faults: faults}
	settings := j.settings()
	if len(j.faults) > 0 {
		sortFaults(j.faults)
		return Loaded{}, j.faults
	}
	return Loaded{Settings: settings, Entries: j.entries(settings), File: path, Warnings: warnings}, nil
}

// internalFault reports a refusal by the settings library of values that were
// already brought to its shape; it cannot be met through any input known.
func internalFault(path string, err error) error {
	return Faults{{
		Code: FaultShape, Origin: Origin{Layer: LayerFile, Name: path},
		Rule: "settings could not be merged: " + err.Error(), Remedy: "start again from a fresh starter file",
	}}
}

// dropItems forgets the places of a list's items when a stronger layer gives
// the whole list.
func dropItems(places map[string]place, name string) {
	for p := range places {
		if strings.HasPrefix(p, name+"[") {
			delete(places, p)
		}
	}
}

func lookUp(values map[string]any, name string) any {
	section, rest, nested := strings.Cut(name, ".")
	if !nested {
		return values[name]
	}
	inner, _ := values[section].(map[string]any)
	return inner[rest]
}

func presetOf(k key) any {
	if k.shape == scalar {
		return k.preset
	}
	return []any{}
}

// sortFaults puts faults in reading order: file lines first, by line, then the
// other layers by key.
func sortFaults(fs Faults) {
	sort.SliceStable(fs, func(i, j int) bool {
		a, b := fs[i], fs[j]
		if a.Origin.Layer != b.Origin.Layer {
			return a.Origin.Layer < b.Origin.Layer
		}
		if a.Origin.Line != b.Origin.Line {
			return a.Origin.Line < b.Origin.Line
		}
		return a.Column < b.Column
	})
}

// reservedEnv are FAY_ variables that are not settings.
var reservedEnv = []string{"FAY_REQUIRE_TOOLS"} // tests: an outside program must be there

// parseEnviron takes the settings out of the environment. An empty variable
// counts as not set. A FAY_ variable that is no setting is a warning, since
// another program may own it.
func parseEnviron(environ []string) (layerValues, Faults) {
	layer := newLayer()
	byEnv := map[string]key{}
	var names []string
	for _, k := range keys {
		if env := k.env(); env != "" {
			byEnv[env] = k
			names = append(names, env)
		}
	}
	var warnings Faults
	for _, pair := range environ {
		name, text, _ := strings.Cut(pair, "=")
		if !strings.HasPrefix(name, EnvPrefix) || text == "" || slices.Contains(reservedEnv, name) {
			continue
		}
		origin := Origin{Layer: LayerEnvironment, Name: name}
		k, known := byEnv[name]
		if !known {
			remedy := "unset it, or see `fay settings` for the names"
			if near, ok := Nearest(name, names); ok {
				remedy = fmt.Sprintf("did you mean %q?", near)
			}
			warnings = append(warnings, Fault{
				Code: FaultUnknownKey, Origin: origin, Value: text, Rule: "no such setting", Remedy: remedy,
			})
			continue
		}
		layer.put(k.name, split(k, text), place{origin: origin})
	}
	return layer, warnings
}

func parseOverrides(overrides []Override) (layerValues, Faults) {
	layer := newLayer()
	var faults Faults
	for _, o := range overrides {
		origin := Origin{Layer: LayerOverride, Name: o.Name}
		k, known := findKey(o.Key)
		switch {
		case !known:
			remedy := "see `fay settings` for the names"
			if near, ok := Nearest(o.Key, keyNames()); ok {
				remedy = fmt.Sprintf("did you mean %q?", near)
			}
			faults = append(faults, Fault{
				Code: FaultUnknownKey, Key: o.Key, Origin: origin, Value: o.Value, Rule: "no such setting", Remedy: remedy,
			})
		case k.shape == records:
			faults = append(faults, Fault{
				Code: FaultShape, Key: o.Key, Origin: origin, Value: o.Value,
				Rule: "entries need a settings file", Remedy: "write them in the file",
			})
		default:
			layer.put(k.name, split(k, o.Value), place{origin: origin})
		}
	}
	return layer, faults
}

// split brings text from the environment or a flag to the shape of its key.
func split(k key, text string) any {
	if k.shape == scalar {
		return text
	}
	list := []any{}
	for item := range strings.SplitSeq(text, ",") {
		if item = strings.TrimSpace(item); item != "" {
			list = append(list, item)
		}
	}
	return list
}

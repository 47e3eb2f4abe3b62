package archtest

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const module = "fay"

// layers maps a package tree to the package trees it may import, itself
// included where its packages may import each other. The longest matching tree
// decides; a package under no tree is refused, so a new tree must be placed.
var layers = map[string][]string{
	"geometry":          nil,
	"geometry/geomtest": {"geometry"},
	"joints":            {"geometry", "joints"},
	"render":            {"geometry", "joints", "render"},
	"config":            {"geometry"},
	"cmd":               {"geometry", "joints", "render", "config", "cmd"},
}

// upward lists imports inside one tree that point the wrong way: the package
// named must not import packages under the trees named.
var upward = map[string][]string{
	"joints": {
		"joints/check", "joints/filler", "joints/heat", "joints/compare", "joints/fitup", "joints/macro",
	},
	"joints/check":  {"joints/compare"},
	"joints/filler": {"joints/compare"},
	"joints/heat":   {"joints/compare"},
	"render": {
		"render/svg", "render/pdf", "render/png", "render/dxf", "render/sheet",
	},
	"render/svg": {"render/sheet"},
	"render/pdf": {"render/sheet"},
	"render/png": {"render/sheet"},
	"render/dxf": {"render/sheet"},
}

// outside says which trees may import a module from outside, tests included.
// A module that is not listed may be imported anywhere but in geometry.
var outside = map[string][]string{
	"github.com/tdewolff/canvas":           {"render"},
	"github.com/spf13/viper":               {"config"},
	"github.com/spf13/cobra":               {"cmd"},
	"github.com/spf13/pflag":               {"cmd"},
	"github.com/rogpeppe/go-internal":      {"cmd"},
	"github.com/peterstace/simplefeatures": {"geometry", "joints", "render", "config", "cmd"},
}

// testOnly lists modules that only tests may import: a second route to the
// same numbers is worth nothing inside the program.
var testOnly = []string{
	"github.com/peterstace/simplefeatures",
	"github.com/google/go-cmp",
	"github.com/santhosh-tekuri/jsonschema",
	"github.com/rogpeppe/go-internal",
}

// file is one Go file as far as the rules care.
type file struct {
	pkg     string // package folder from the module root: joints/heat
	name    string
	imports []string
}

// isTest reports whether the file is never part of the program: a test, or a
// package of helpers for tests.
func (f file) isTest() bool {
	return strings.HasSuffix(f.name, "_test.go") || strings.HasSuffix(path.Base(f.pkg), "test")
}

func within(p, tree string) bool { return p == tree || strings.HasPrefix(p, tree+"/") }

func withinAny(p string, trees []string) bool {
	for _, t := range trees {
		if within(p, t) {
			return true
		}
	}
	return false
}

// layerOf returns the longest layer a package lies in.
func layerOf(pkg string) (string, bool) {
	best := ""
	for tree := range layers {
		if within(pkg, tree) && len(tree) > len(best) {
			best = tree
		}
	}
	return best, best != ""
}

// violations lists every import of f that breaks a rule.
func violations(f file) []string {
	var out []string
	say := func(imp, rule string) {
		out = append(out, fmt.Sprintf("%s/%s imports %s: %s", f.pkg, f.name, imp, rule))
	}
	layer, placed := layerOf(f.pkg)
	if !placed {
		return []string{fmt.Sprintf("%s/%s: package is in no layer", f.pkg, f.name)}
	}
	for _, imp := range f.imports {
		inner, ours := strings.CutPrefix(imp, module+"/")
		switch {
		case ours && f.isTest() && strings.HasSuffix(path.Base(inner), "test") && inner != f.pkg:
			// Test helpers may serve any test.
		case ours && inner != f.pkg && !withinAny(inner, layers[layer]):
			say(imp, layer+" may not import it")
		case ours && !f.isTest() && withinAny(inner, upward[f.pkg]):
			say(imp, "points the wrong way inside "+layer)
		case ours && !f.isTest() && strings.HasSuffix(path.Base(inner), "test"):
			say(imp, "test helpers stay out of the program")
		case !ours && isStd(imp):
		case !ours:
			outsideViolations(f, layer, imp, say)
		}
	}
	return out
}

func outsideViolations(f file, layer, imp string, say func(imp, rule string)) {
	if layer == "geometry" && !f.isTest() {
		say(imp, "geometry stands on the standard library alone")
	}
	for mod, trees := range outside {
		if within(imp, mod) && !withinAny(f.pkg, trees) {
			say(imp, "only for "+strings.Join(trees, ", "))
		}
	}
	for _, mod := range testOnly {
		if within(imp, mod) && !f.isTest() {
			say(imp, "only for tests")
		}
	}
}

// isStd reports whether an import path is of the standard library: its first
// element has no dot and is not this module.
func isStd(imp string) bool {
	first, _, _ := strings.Cut(imp, "/")
	return !strings.Contains(first, ".") && first != module
}

// moduleRoot walks up to the folder of go.mod.
func moduleRoot(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = parent
	}
}

// parseImports reads the imports of every Go file of the module.
func parseImports(t *testing.T, root string) []file {
	t.Helper()
	var files []file
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if p != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
				return filepath.SkipDir
			}
			return nil
		}
		if filepath.Ext(p) != ".go" {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(p))
		if err != nil {
			return err
		}
		f := file{pkg: filepath.ToSlash(rel), name: d.Name()}
		for _, spec := range parsed.Imports {
			imp, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			f.imports = append(f.imports, imp)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestImportsPointOneWay(t *testing.T) {
	files := parseImports(t, moduleRoot(t))
	seen := map[string]bool{}
	for _, f := range files {
		if layer, ok := layerOf(f.pkg); ok {
			seen[layer] = true
		}
		for _, v := range violations(f) {
			t.Error(v)
		}
	}
	// A walk that misses a layer would pass without looking at it.
	for _, layer := range []string{"geometry", "joints", "render", "config", "cmd"} {
		if !seen[layer] {
			t.Errorf("no Go file of layer %s was read", layer)
		}
	}
}

// TestRulesCatch shows that each rule refuses what it is for and lets its
// neighbour through.
func TestRulesCatch(t *testing.T) {
	tests := []struct {
		name string
		file file
		want []string
	}{
		{"geometry may use the standard library", file{"geometry", "a.go", []string{"math", "encoding/json"}}, nil},
		{
			"geometry may not use another module", file{"geometry", "a.go", []string{"gonum.org/v1/gonum/mat"}},
			[]string{"geometry/a.go imports gonum.org/v1/gonum/mat: geometry stands on the standard library alone"},
		},
		{"a geometry test may use a second route", file{"geometry", "a_test.go", []string{"github.com/peterstace/simplefeatures/geom"}}, nil},
		{
			"the second route stays out of the program", file{"joints", "a.go", []string{"github.com/peterstace/simplefeatures/geom"}},
			[]string{"joints/a.go imports github.com/peterstace/simplefeatures/geom: only for tests"},
		},
		{
			"joints may not import render", file{"joints", "a.go", []string{"fay/render"}},
			[]string{"joints/a.go imports fay/render: joints may not import it"},
		},
		{
			"nor may its tests", file{"joints", "a_test.go", []string{"fay/render"}},
			[]string{"joints/a_test.go imports fay/render: joints may not import it"},
		},
		{
			"joints may not import its consumers", file{"joints", "a.go", []string{"fay/joints/heat"}},
			[]string{"joints/a.go imports fay/joints/heat: points the wrong way inside joints"},
		},
		{"a consumer may import joints", file{"joints/heat", "a.go", []string{"fay/joints", "fay/geometry"}}, nil},
		{
			"joints may not import config", file{"joints/filler", "a.go", []string{"fay/config"}},
			[]string{"joints/filler/a.go imports fay/config: joints may not import it"},
		},
		{
			"config may not import joints", file{"config", "a.go", []string{"fay/joints"}},
			[]string{"config/a.go imports fay/joints: config may not import it"},
		},
		{
			"nobody imports a command", file{"render/sheet", "a.go", []string{"fay/cmd/fay/internal/cli"}},
			[]string{"render/sheet/a.go imports fay/cmd/fay/internal/cli: render may not import it"},
		},
		{"writers may use canvas", file{"render/pdf", "a.go", []string{"github.com/tdewolff/canvas/renderers/pdf"}}, nil},
		{
			"nobody else may", file{"joints", "a_test.go", []string{"github.com/tdewolff/canvas"}},
			[]string{"joints/a_test.go imports github.com/tdewolff/canvas: only for render"},
		},
		{
			"a name that only begins alike is another module", file{"joints", "a.go", []string{"github.com/tdewolff/canvasser"}},
			nil,
		},
		{
			"settings are read in config", file{"cmd/fay/internal/cli", "a.go", []string{"github.com/spf13/viper"}},
			[]string{"cmd/fay/internal/cli/a.go imports github.com/spf13/viper: only for config"},
		},
		{"tests may use helpers of a lower layer", file{"render", "a_test.go", []string{"fay/geometry/geomtest"}}, nil},
		{
			"the program may not use test helpers", file{"render", "a.go", []string{"fay/geometry/geomtest"}},
			[]string{"render/a.go imports fay/geometry/geomtest: test helpers stay out of the program"},
		},
		{"a tree without a place is refused", file{"util", "a.go", nil}, []string{"util/a.go: package is in no layer"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := violations(tt.file)
			sort.Strings(got)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("violations (-want +got):\n%s", diff)
			}
		})
	}
}

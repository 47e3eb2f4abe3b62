package cli

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fay/joints"
)

// spans are the inline commands of a text, which may break over a line.
var spans = regexp.MustCompile("`(fay [^`]+)`")

// The commands of the README work in its order, in one folder, and the heat of a
// comparison is there.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	examples, err := filepath.Abs("../../../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.Symlink(examples, "testdata"); err != nil {
		t.Skip("no links here: ", err)
	}
	all := string(text)
	begin, end := strings.Index(all, "## The first ten minutes"), strings.Index(all, "## Very long lists")
	if begin < 0 || end < begin {
		t.Fatal("the walk through is not there")
	}
	ran := 0
	for part := range strings.SplitSeq(strings.ReplaceAll(all[begin:end], "\\\n", " "), "\n\n") {
		var lines []string
		if block, ok := strings.CutPrefix(part, "```\n"); ok {
			lines = strings.Split(strings.TrimSuffix(strings.TrimSpace(block), "\n```"), "\n")
		} else {
			for _, m := range spans.FindAllStringSubmatch(part, -1) {
				lines = append(lines, strings.Join(strings.Fields(m[1]), " "))
			}
		}
		for _, line := range lines {
			if strings.Contains(line, " ID") {
				continue // any rule
			}
			line, file, _ := strings.Cut(line, " > ")
			code, out, talk := run(t, "", strings.Fields(line)[1:]...)
			if code != exitDone {
				t.Errorf("%s: exit code %d\n%s", line, code, talk)
			}
			if strings.Contains(line, "preparations") && strings.Contains(out, "not available") {
				t.Errorf("%s: the heat is not available", line)
			}
			if file != "" {
				if err := os.WriteFile(file, []byte(out), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			ran++
		}
	}
	if ran < 20 {
		t.Errorf("%d commands found", ran)
	}
}

// Every starter meets its own checks, and its heat is known but of a plug.
func TestStartersMeetTheirChecks(t *testing.T) {
	for i := range joints.Kinds {
		kind := joints.Kinds[i].Name
		t.Run(kind, func(t *testing.T) {
			_, text, _ := run(t, "", "new", kind)
			for command, want := range map[string]int{"check": exitDone, "filler": exitDone, "fitup": exitDone, "heat": exitDone} {
				if command == "heat" && kind == "plug" {
					want = exitInput // no seam that an arc travels along
				}
				if code, out, talk := run(t, text, command, "-"); code != want {
					t.Errorf("%s: exit code %d, want %d\n%s%s", command, code, want, out, talk)
				}
			}
		})
	}
}

// Left out means something that can be made, where there is such a thing.
func TestDefaultsCanBeMade(t *testing.T) {
	for _, line := range []string{
		"tee base=20 stem=10 prep=double-j leg=4 other.leg=6", "tee base=20 stem=10 prep=j", "tee base=20 stem=10 prep=bevel", "tee base=20 stem=10 prep=double-bevel",
		"tee base=6 stem=4 prep=double-j", "butt left=12 right=12 prep=single-v", "butt left=12 right=12 prep=double-v", "butt left=3 right=3 prep=single-u",
		"butt left=4 right=4 prep=double-u", "butt left=6 right=6 prep=single-j", "butt left=12 right=12 prep=double-bevel root-opening=2",
	} {
		if code, _, talk := run(t, "", append([]string{"check"}, strings.Fields(line)...)...); code != exitDone {
			t.Errorf("%s: exit code %d\n%s", line, code, talk)
		}
	}
}

// One metal stands for all members, and a member's own goes over it.
func TestMaterialOfAllMembers(t *testing.T) {
	for name, args := range map[string][]string{
		"check": {"check", "tee", "base=8", "stem=4", "leg=3", "material=6082", "stem.material=5083", "--format", "json"},
		"file":  {"check", "-", "stem.material=5083", "--format", "json"},
		"table": {"job", "-", "--format", "jsonl"},
	} {
		in := "joint: tee\nmaterial: 6082\nbase: 8\nstem: 4\nleg: 3\n"
		if name == "table" {
			in = "joint,base,stem,leg,material,stem.material\ntee,8,4,3,6082,5083\n"
		}
		_, out, talk := run(t, in, args...)
		out = strings.Join(strings.Fields(out), "")
		if !strings.Contains(out, `"6082"`) || !strings.Contains(out, `"5083"`) {
			t.Errorf("%s: %s%s", name, out, talk)
		}
	}
	for _, args := range []string{"draw tee base=8 stem=4 leg=3 material=6082 -o x.txt", "compare tee base=8 stem=4 leg=3 vs leg=4 material=6082"} {
		t.Chdir(t.TempDir())
		if code, _, talk := run(t, "", strings.Fields(args)...); code != exitDone {
			t.Errorf("%s: %d\n%s", args, code, talk)
		}
	}
}

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fay": main})
}

// TestScripts fixes the behaviour of the command line: exit codes, messages,
// what is written and what is left alone.
func TestScripts(t *testing.T) {
	examples, err := filepath.Abs("../../testdata/examples")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                filepath.Join("..", "..", "testdata", "script"),
		RequireUniqueNames: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("HOME", env.WorkDir)
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, ".config"))
			env.Setenv("EXAMPLES", examples)
			return nil
		},
		Condition: func(cond string) (bool, error) { return cond == "root" && os.Geteuid() == 0, nil },
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"code":    code,
			"large":   large,
			"nothing": nothing,
			"begins":  begins,
		},
	})
}

// code N fay … runs a command and checks its exit code.
func code(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N command …")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		_, got, _ = strings.Cut(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("exit code %q, want %s", got, args[0])
	}
}

// large FILE writes a file of 10 MB.
func large(ts *testscript.TestScript, _ bool, args []string) {
	text := "joint: tee\n" + strings.Repeat("# a line of a file that is far too long\n", 250_000)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o600))
}

// nothing FOLDER checks that a folder is empty, temporary names included.
func nothing(ts *testscript.TestScript, _ bool, args []string) {
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	for _, e := range entries {
		ts.Fatalf("%s holds %s", args[0], e.Name())
	}
}

// begins FILE TEXT checks the first bytes of a file.
func begins(ts *testscript.TestScript, _ bool, args []string) {
	if data := ts.ReadFile(args[0]); !strings.HasPrefix(data, args[1]) {
		ts.Fatalf("%s begins with %.20q, want %q", args[0], data, args[1])
	}
}

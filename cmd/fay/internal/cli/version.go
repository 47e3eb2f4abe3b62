package cli

import (
	"runtime/debug"

	"github.com/spf13/cobra"
)

// Version is set by the linker when a release is built.
var Version = ""

func (a *app) version() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Print the version",
		Example: "  fay version",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.print([]byte("fay " + version() + "\n")) },
	}
}

// version is the linker's, else what the build recorded.
func version() string {
	if Version != "" {
		return Version
	}
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(unknown)"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && v == "(devel)" && len(s.Value) >= 12 {
			v += " " + s.Value[:12]
		}
	}
	return v
}

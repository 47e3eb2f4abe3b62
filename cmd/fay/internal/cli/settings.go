package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/joints/result"
)

// settingsOptions are what `fay settings` is told.
type settingsOptions struct {
	format   string
	template bool
}

func (a *app) settings() *cobra.Command {
	var o settingsOptions
	cmd := &cobra.Command{
		Use:   "settings",
		Short: "Show every setting with its value and where it comes from",
		Long: `settings shows every setting: the default, your settings file, a FAY_ variable or
a flag, the later one winning. --template prints a settings file to start from.`,
		Example: "  fay settings\n  fay settings --units in --format json\n  fay settings --template",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.runSettings(&o) },
	}
	formatFlag(cmd, &o.format)
	cmd.Flags().BoolVar(&o.template, "template", false, "print a commented settings file")
	return cmd
}

// noArgs refuses arguments in our words.
func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usage("`"+cmd.CommandPath()+"` takes no arguments, but was given "+args[0], "`"+cmd.CommandPath()+" --help` shows what it takes")
	}
	return nil
}

// setting is one setting in JSON.
type setting struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Origin string `json:"origin"`
	Env    string `json:"env,omitempty"`
	Doc    string `json:"doc"`
}

// settingsResult is the JSON of `fay settings`.
type settingsResult struct {
	Schema   string    `json:"schema"`
	File     string    `json:"file,omitempty"` // the settings file that was read
	Settings []setting `json:"settings"`
}

func (a *app) runSettings(o *settingsOptions) error {
	if o.template {
		return a.print([]byte(config.Template()))
	}
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	t := table{heads: []string{"key", "value", "origin"}}
	res := settingsResult{Schema: "fay.settings/1", File: loaded.File, Settings: make([]setting, 0, len(loaded.Entries))}
	for _, e := range loaded.Entries {
		t.add(e.Key, e.Value, e.Origin.String())
		res.Settings = append(res.Settings, setting{Key: e.Key, Value: e.Value, Origin: e.Origin.String(), Env: e.Env, Doc: e.Doc})
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, res)
	case asCSV:
		err = t.csv(&out)
	default:
		t.in(form, &out)
		if form == asText {
			file := loaded.File
			if file == "" {
				file, _ = config.DefaultFile(a.env.ConfigDir)
				file += " (not there)"
			}
			printf(&out, "\nSettings file: %s\n", file)
		}
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// defaultSettingsFile is where the settings file lies when none is named, empty
// where there is no configuration folder.
func defaultSettingsFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "stopcard", "settings.toml")
}

// load notes which flags were given, and takes the rest from the settings file.
func (in *inputFlags) load(flags *pflag.FlagSet) error {
	flags.Visit(func(f *pflag.Flag) {
		if f.Name != "limit" && f.Name != "settings" {
			in.From[f.Name] = settingsfile.FromFlag
		}
	})
	path, named := in.file, flags.Changed("settings")
	if !named {
		path = defaultSettingsFile()
	}
	if path == "" || named && path == "none" {
		return nil
	}
	text, err := readSmall(path, settingsfile.MaxBytes, "a settings file")
	if !named && errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("settings file %s: %w", path, err)
	}
	in.opened = append(in.opened, path)
	// A verb may keep a flag of a setting's name of its own.
	own := func(name string) settingsfile.Value {
		if f := flags.Lookup(name); f != nil {
			return f.Value
		}
		return nil
	}
	return in.Read(path, text, own)
}

// readSmall reads a file that a person wrote, of so many bytes at most.
func readSmall(path string, most int64, what string) ([]byte, error) {
	f, err := os.Open(path)
	var text []byte
	if err == nil {
		defer f.Close()
		// The system tells no size of pipes and devices, and some have no end.
		text, err = io.ReadAll(io.LimitReader(f, most+1))
	}
	if err == nil && int64(len(text)) > most {
		err = fmt.Errorf("more than %d bytes are too many for %s", most, what)
	}
	if at := (*fs.PathError)(nil); errors.As(err, &at) {
		err = at.Err
	}
	return text, err
}

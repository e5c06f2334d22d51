package engine

import (
	"bytes"
	"fmt"
	"maps"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// InForce is what the page shows of the settings.
type InForce struct {
	Hoop      string            `json:"hoop"` // as given; empty for none
	Hoops     map[string]string `json:"hoops"`
	Speed     float64           `json:"speed"`
	Paper     string            `json:"paper"`
	Threads   int               `json:"threads"`    // in the box
	ThreadBox string            `json:"thread_box"` // a CSV that is named but was not given; empty for none
	File      string            `json:"file"`       // the settings file that says it all
}

func (e *Engine) values() *settingsfile.Values {
	if e.own == nil {
		e.own = settingsfile.New()
	}
	return e.own
}

// Settings are those in force.
func (e *Engine) Settings() report.Settings { return e.values().Settings }

// ReadSettings takes the settings of a settings file in place of those in force. Where
// anything in it is wrong they stay as they were.
func (e *Engine) ReadSettings(name string, text []byte) error {
	if len(text) > settingsfile.MaxBytes {
		return fmt.Errorf("%d bytes are too many for a settings file", len(text))
	}
	v := settingsfile.New()
	if err := v.Read(name, text, nil); err != nil {
		return err
	}
	return e.take(v)
}

// ReadThreads takes a thread box, in place of the one that came before.
func (e *Engine) ReadThreads(name string, text []byte) error {
	if len(text) > settingsfile.MaxBytes {
		return fmt.Errorf("%d bytes are too many for a thread box", len(text))
	}
	box, err := settingsfile.ReadThreads(name, text)
	if err != nil {
		return err
	}
	v := *e.values()
	v.Threads, v.ThreadBox = box, "" // the settings file that is saved holds them
	return e.take(&v)
}

// Set sets one setting by its name, or a hoop's size as "hoops NAME", empty to forget it.
func (e *Engine) Set(name, value string) error {
	v := *e.values()
	if hoop, ok := strings.CutPrefix(name, "hoops "); ok {
		v.Hoops = maps.Clone(v.Hoops)
		if value == "" {
			delete(v.Hoops, hoop)
			if v.Hoop == hoop {
				v.Hoop = ""
			}
			return e.take(&v)
		}
		if _, _, err := settingsfile.ParseSize(value); err != nil {
			return err
		}
		v.Hoops[hoop] = value
		return e.take(&v)
	}
	s := settingsfile.Find(name)
	if s == nil {
		return fmt.Errorf("there is no setting %q", name)
	}
	if err := s.Value(&v).Set(value); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return e.take(&v)
}

// PutThreadsAway empties the thread box.
func (e *Engine) PutThreadsAway() error {
	v := *e.values()
	v.Threads, v.ThreadBox = nil, ""
	return e.take(&v)
}

// take puts settings in force; what has been read is measured anew when it is next
// asked for.
func (e *Engine) take(v *settingsfile.Values) error {
	if err := v.ResolveHoop(); err != nil {
		return err
	}
	if err := v.FillBox("", nil); err != nil {
		return err
	}
	e.own, e.stale = v, true
	return nil
}

// InForce tells the settings in force.
func (e *Engine) InForce() *InForce {
	v := e.values()
	var file bytes.Buffer
	v.WriteGiven(&file)
	return &InForce{Hoop: v.Hoop, Hoops: v.Hoops, Speed: v.Settings.SpeedPerMinute, Paper: v.Paper,
		Threads: len(v.Settings.Threads), ThreadBox: strings.TrimPrefix(v.ThreadBox, "none"), File: file.String()}
}

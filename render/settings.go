package render

import (
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// settingsOf are the settings that a report was made with: pictures, cards and pages
// show what was measured, by no settings of their own.
func settingsOf(r *report.Report) report.Settings {
	if r == nil || r.Settings == nil {
		return report.DefaultSettings()
	}
	return *r.Settings
}

// unitsOf are the units in which a report tells lengths.
func unitsOf(r *report.Report) words.Units {
	s := settingsOf(r)
	return words.UnitsOf(&s)
}

// hoopOf is the person's own hoop, the zero Hoop where none was given.
func hoopOf(r *report.Report) words.Hoop {
	s := settingsOf(r)
	return words.Hoop{WidthMM: s.HoopWidthMM, HeightMM: s.HoopHeightMM}
}

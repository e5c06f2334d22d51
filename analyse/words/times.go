package words

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
)

// TimeWords writes a time in minutes as "under 1 min", "7 min" or "1 h 05 min".
func TimeWords(minutes float64) string {
	n := int(math.Round(minutes))
	switch {
	case n < 1:
		return "under 1 min"
	case n < 60:
		return fmt.Sprintf("%d min", n)
	}
	return fmt.Sprintf("%d h %02d min", n/60, n%60)
}

// TimeOfBoth writes the time that a design takes, and how much of it the machine sews and
// how much the hands work, as [PartedTime] has them. The whole is the sum of what is shown.
func TimeOfBoth(r *report.Report) string {
	switch {
	case r.Minutes < 0.5:
		return AboutTime(r.Minutes)
	case r.HandMin < 0.5:
		return AboutTime(r.Minutes) + ", the machine alone"
	case r.MachineMin < 0.5:
		return AboutTime(r.Minutes) + ", nearly all of it hand work"
	}
	return AboutTime(math.Round(r.MachineMin)+math.Round(r.HandMin)) + ": " + PartedTime(r.Minutes, r.MachineMin)
}

// PartedTime writes how much of a time in minutes the machine sews, and how much the
// hands work.
func PartedTime(minutes, machine float64) string {
	if minutes < 0.5 {
		return TimeWords(minutes)
	}
	return "machine " + TimeWords(machine) + ", hands " + TimeWords(minutes-machine)
}

// CellTime writes a time in minutes as short as a table wants it.
func CellTime(minutes float64) string {
	if minutes < 0.5 {
		return "<1 min"
	}
	return TimeWords(minutes)
}

// AboutTime writes an estimated time in minutes, as "under 1 min" or "about 7 min".
func AboutTime(minutes float64) string {
	if minutes < 0.5 {
		return TimeWords(minutes)
	}
	return "about " + TimeWords(minutes)
}

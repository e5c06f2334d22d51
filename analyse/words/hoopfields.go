package words

import (
	"fmt"
	"strings"
)

// hoopFields are the common fields of home machines' hoops, in mm (design makers'
// size lists; names vary, the fields do not).
var hoopFields = []Hoop{{100, 100}, {110, 110}, {130, 180}, {150, 240}, {160, 260}, {200, 200}, {200, 300}, {230, 300}, {200, 360}}

// HoopFor says which hoop a design needs: the common fields that hold it, turned
// by a quarter if that helps, and hold no smaller one that does.
func (u Units) HoopFor(w, h float64) string {
	var fit []Hoop
	for _, f := range hoopFields {
		if ok, _ := f.Holds(w, h); ok {
			fit = append(fit, f)
		}
	}
	if len(fit) == 0 {
		n := len(hoopFields)
		return "a hoop larger than " + u.fields(hoopFields[n-2:], " and ")
	}
	var least []Hoop
	turned := true
	for _, f := range fit {
		smallest := true
		for _, g := range fit {
			smallest = smallest && (g == f || g.WidthMM > f.WidthMM || g.HeightMM > f.HeightMM)
		}
		if smallest {
			least = append(least, f)
			_, turn := f.Holds(w, h)
			turned = turned && turn
		}
	}
	text := "hoop of " + u.fields(least, " or ") + ", or larger"
	if turned {
		text += ", the design turned"
	}
	return text
}

// fields names hoops by their fields. These are known by their mm, so inches are told
// only where they alone are wanted.
func (u Units) fields(hoops []Hoop, between string) string {
	var names []string
	for _, f := range hoops {
		if u == Inches {
			names = append(names, Figure(f.WidthMM/mmPerInch, 2)+" x "+Figure(f.HeightMM/mmPerInch, 2))
		} else {
			names = append(names, fmt.Sprintf("%.0f x %.0f", f.WidthMM, f.HeightMM))
		}
	}
	text := strings.Join(names, between)
	if u == Inches {
		return text + " in"
	}
	return text + " mm"
}

// FieldsFor lists the common fields that hold a design of that size, as HoopsFor does,
// with their unit; "" for none. No more than most of them are told, 0 for all.
func (u Units) FieldsFor(w, h float64, most int) string {
	var hold []Hoop
	for _, f := range hoopFields {
		if ok, _ := f.Holds(w, h); ok && (most == 0 || len(hold) < most) {
			hold = append(hold, f)
		}
	}
	if len(hold) == 0 {
		return ""
	}
	return u.fields(hold, ", ")
}

// HoopsFor lists the common fields that hold a design of that size, the smallest first,
// turned by a quarter where that helps.
func HoopsFor(w, h float64) []string {
	out := []string{}
	for _, f := range hoopFields {
		if ok, _ := f.Holds(w, h); ok {
			out = append(out, fmt.Sprintf("%.0f x %.0f", f.WidthMM, f.HeightMM))
		}
	}
	return out
}

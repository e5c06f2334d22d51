package render

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// partsText tells which pieces of cloth a stop works on, and what else it does
// beside its role. It is empty where there is nothing to add.
func partsText(r *report.Report, s *report.Stop) string {
	type group struct {
		role   string
		pieces []int
	}
	var groups []group
	add := func(role string, piece int) {
		i := slices.IndexFunc(groups, func(g group) bool { return g.role == role })
		if i < 0 {
			groups = append(groups, group{role: role})
			i = len(groups) - 1
		}
		if piece > 0 && !slices.Contains(groups[i].pieces, piece) {
			groups[i].pieces = append(groups[i].pieces, piece)
		}
	}
	for _, p := range s.Parts {
		add(p.Role, p.Piece)
	}
	if len(groups) == 0 {
		for _, p := range r.Pieces {
			if p.PlacementStop == s.Number || p.TackDownStop == s.Number || p.CoverStop == s.Number {
				add(s.Role, p.Number)
			}
		}
	}
	var texts []string
	for _, g := range groups {
		var parts []string
		if g.role != s.Role || len(groups) > 1 {
			parts = append(parts, words.RoleOn(r, g.role, g.pieces))
			if len(g.pieces) > 0 {
				parts = append(parts, "of")
			}
		}
		switch len(g.pieces) {
		case 0:
		case 1:
			parts = append(parts, "piece "+numberList(g.pieces))
		default:
			parts = append(parts, "pieces "+numberList(g.pieces))
		}
		if len(parts) > 0 {
			texts = append(texts, strings.Join(parts, " "))
		}
	}
	return strings.Join(texts, "; ")
}

// numberList writes rising numbers as "1, 2 and 3" or "1 to 9", and no more than eight of
// those that do not follow one another evenly.
func numberList(n []int) string {
	const most = 8
	if text := words.ListNumbers(n); len(n) <= most || strings.Contains(text, " to ") {
		return text
	}
	return strings.ReplaceAll(strings.Trim(fmt.Sprint(n[:most]), "[]"), " ", ", ") + " and others"
}

// numberRanges writes rising numbers with runs drawn together: "1, 3 to 6, 9".
func numberRanges(n []int) string {
	var parts []string
	for i := 0; i < len(n); {
		k := i
		for k+1 < len(n) && n[k+1] == n[k]+1 {
			k++
		}
		switch {
		case k-i >= 2:
			parts = append(parts, fmt.Sprintf("%d to %d", n[i], n[k]))
		case k > i:
			parts = append(parts, fmt.Sprint(n[i]), fmt.Sprint(n[k]))
		default:
			parts = append(parts, fmt.Sprint(n[i]))
		}
		i = k + 1
	}
	return strings.Join(parts, ", ")
}

// sentence gives a text its capital.
func sentence(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return text
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

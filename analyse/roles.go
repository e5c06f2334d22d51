package analyse

import "fmt"

// The roles of colour stops.
const (
	RoleStitching       = "stitching" // nothing better is known
	RoleClothOutline    = "cloth outline"
	RoleClothHoldDown   = "cloth hold-down"
	RolePlacementLine   = "placement line"
	RoleTackDown        = "tack-down"
	RoleCoverSatin      = "cover satin"
	RoleEdgeRun         = "edge run"
	RoleDecoration      = "decoration"
	RoleBattingHoldDown = "batting hold-down"
	RoleBackingHoldDown = "backing hold-down"
	RoleQuilting        = "quilting"
)

// Roles says what each colour stop is for.
var Roles = &Analyser{
	Requires: []*Analyser{Passages, Columns},
	Name:     "roles",
	Doc:      "what each colour stop is for, from its geometry and its place in the order",
	Run:      findRoles,
}

const (
	followWithin = 2.0  // mm: a line this near another follows it
	besideWithin = 1.5  // mm: a line this near satin runs along it
	followShare  = 0.85 // of its length
	outlineSlack = 4.0  // mm: hold-downs lie this far round the outline
)

// findRoles starts from the one sure sign of applique, a line that a later stop
// follows and satin then covers. Where no stop shows that sign the roles stay
// at "stitching", so that no step is asked for that nobody needs.
func findRoles(p *Pass) {
	stops := p.Report.Stops
	shapes := make([]shape, len(stops))
	lines := make([]lineIndex, len(stops))
	for i := range stops {
		shapes[i] = shapeOf(p, &stops[i])
		if sh := shapes[i]; isLine(sh) || sh.satin > 0.3 || sh.zigzag > 0.3 {
			lines[i] = indexLine(sh.line, followWithin)
		}
	}
	set := func(i int, role string, confidence float64, reason string, args ...any) {
		stops[i].Role, stops[i].Confidence, stops[i].Reason = role, confidence, fmt.Sprintf(reason, args...)
	}
	for i := range stops {
		set(i, RoleStitching, 0.3, "%s", describe(shapes[i]))
	}

	pieces := findPieces(stops, shapes, lines, set)
	if pieces == 0 {
		return
	}
	markOutlines(stops, shapes, set)
	markRest(stops, shapes, set)
}

type setRole func(i int, role string, confidence float64, reason string, args ...any)

// findPieces marks placement lines, tack-downs and cover satin, and counts the
// placement lines.
func findPieces(stops []Stop, shapes []shape, lines []lineIndex, set setRole) int {
	pieces := 0
	for i := range stops {
		if !isLine(shapes[i]) || stops[i].Role != RoleStitching {
			continue
		}
		tack, cover := -1, -1
		for j := i + 1; j < len(stops); j++ {
			if lines[j].share(shapes[i].line) < followShare {
				continue
			}
			switch {
			case shapes[j].satin > 0.3:
				cover = j
			case tack < 0 && j == i+1 && (isLine(shapes[j]) || shapes[j].zigzag > 0.3) && lines[i].share(shapes[j].line) >= followShare:
				tack = j
			}
			if cover >= 0 {
				break
			}
		}
		if cover < 0 || tack < 0 {
			continue
		}
		pieces++
		set(i, RolePlacementLine, 0.9, "a single line that stop %d follows and the satin of stop %d covers", tack+1, cover+1)
		set(tack, RoleTackDown, 0.9, "follows the line of stop %d within %.0f mm, before the satin of stop %d", i+1, followWithin, cover+1)
		set(cover, RoleCoverSatin, 0.9, "satin over the line of stop %d", i+1)
	}
	return pieces
}

// isLine reports whether a stop sews lines and no surface.
func isLine(s shape) bool {
	return len(s.line) > 0 && s.sparse && s.satin < 0.1 && s.triple < 0.3 && s.zigzag < 0.3
}

// encloses reports whether box a reaches at least as far as box b on all sides,
// give or take slack mm.
func encloses(a, b [4]float64, slack float64) bool {
	return a[0] <= b[0]+slack && a[1] <= b[1]+slack && a[2] >= b[2]-slack && a[3] >= b[3]-slack
}

// markOutlines finds the closed lines that go round everything: before the first
// piece they are for the cloth, after the last cover satin for batting and backing.
func markOutlines(stops []Stop, shapes []shape, set setRole) {
	firstPiece, lastCover := len(stops), -1
	inner := [4]float64{}
	for i, s := range stops {
		switch s.Role {
		case RolePlacementLine:
			firstPiece = min(firstPiece, i)
		case RoleCoverSatin:
			lastCover = i
			inner = s.BoundsMM
		}
	}
	outline := -1
	after := 0
	for i := range stops {
		if stops[i].Role != RoleStitching || !isLine(shapes[i]) || !shapes[i].closed || !encloses(stops[i].BoundsMM, inner, 1) {
			continue
		}
		switch {
		case i < firstPiece && outline < 0:
			outline = i
			set(i, RoleClothOutline, 0.8, "first closed line round everything that comes before the applique")
		case i < firstPiece:
			set(i, RoleClothHoldDown, 0.8, "goes round the line of stop %d again", outline+1)
		case i > lastCover && outline >= 0 && encloses(stops[i].BoundsMM, stops[outline].BoundsMM, outlineSlack) && !crowded(shapes[i]):
			after++
			if after == 1 {
				set(i, RoleBattingHoldDown, 0.7, "first line round the whole block after the cover satin")
			} else {
				set(i, RoleBackingHoldDown, 0.7, "another line round the whole block after the cover satin")
			}
		}
	}
}

// crowded reports whether a line is much longer than the way round its box, so
// that it fills the box rather than goes round it.
func crowded(s shape) bool {
	around := 2 * (s.box[2] - s.box[0] + s.box[3] - s.box[1])
	return s.length > 2.5*around
}

// markRest names what stands beside or between the applique.
func markRest(stops []Stop, shapes []shape, set setRole) {
	// The rails of each cover satin, indexed once for all that may run beside them.
	rails := make(map[int]lineIndex)
	for i := range stops {
		if stops[i].Role == RoleCoverSatin {
			rails[i] = indexLine(shapes[i].line, besideWithin)
		}
	}
	backing := -1
	for i := range stops {
		if stops[i].Role == RoleBattingHoldDown || stops[i].Role == RoleBackingHoldDown {
			backing = i
		}
		if stops[i].Role != RoleStitching {
			continue
		}
		beside := -1
		if shapes[i].satin < 0.3 && !isFilled(shapes[i]) {
			for j := range i {
				if x, ok := rails[j]; ok && x.share(shapes[i].line) >= followShare {
					beside = j
				}
			}
		}
		switch {
		case beside >= 0:
			set(i, RoleEdgeRun, 0.7, "runs along the satin of stop %d", beside+1)
		case backing >= 0 && shapes[i].satin < 0.3:
			set(i, RoleQuilting, 0.7, "running stitches after the hold-down of stop %d", backing+1)
		default:
			set(i, RoleDecoration, 0.5, "%s, not on any applique line", describe(shapes[i]))
		}
	}
}

func isFilled(s shape) bool { return s.fill > 0 && s.triple < 0.3 }

// describe says in plain words what a stop's stitching looks like.
func describe(s shape) string {
	switch {
	case s.satin > 0.3:
		return "mostly satin"
	case s.triple > 0.3:
		return "a triple line"
	case s.zigzag > 0.3:
		return "an open zigzag"
	case s.fill > 0:
		return "filled areas"
	case s.closed:
		return "a closed running line"
	}
	return "running lines"
}

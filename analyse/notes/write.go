package notes

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Write writes notes filled in with what was inferred: r is the design's report made
// without notes, s its sign. What a person leaves as it is stays inferred.
func Write(r *report.Report, s Sign) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Notes on %s. What stands here was worked out from the stitches, each line with\n", comment(r.Path))
	b.WriteString("# its reason. Change what is wrong and fill in what you know; all of Stopcard follows it.\n")
	b.WriteString("# Lines that you leave as they are, or delete, stay as Stopcard reads the design.\n\n")
	b.WriteString(titleLine)
	for i := range r.Stops {
		b.Write(stopTable(&r.Stops[i]))
	}
	for i := range r.Pieces {
		b.Write(pieceTable(&r.Pieces[i]))
	}
	b.Write(designTable(s, readAs(r)))
	return b.Bytes()
}

const titleLine = "title = \"\"  # what to call it on card and page\n"

func stopTable(s *report.Stop) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "\n[[stop]]\nnumber = %d\n%s\n", s.Number, roleLine(s))
	colour := "the file has no colour"
	if s.ColourName != nil {
		colour = *s.ColourName + " in the file"
	}
	fmt.Fprintf(&b, "thread = \"\"  # %s\nnote = \"\"\n", comment(colour))
	return b.Bytes()
}

func roleLine(s *report.Stop) string {
	return fmt.Sprintf("role = %s  # %.0f %%: %s", strconv.Quote(s.Role), min(99, 100*s.Confidence), comment(s.Reason))
}

func pieceTable(k *report.Piece) []byte {
	var b bytes.Buffer
	at := pieceAt(k)
	stops := fmt.Sprintf("placement line in stop %d", k.PlacementStop)
	if k.TackDownStop > 0 {
		stops += fmt.Sprintf(", tack-down in %d", k.TackDownStop)
	}
	if k.CoverStop > 0 {
		stops += fmt.Sprintf(", cover in %d", k.CoverStop)
	}
	fmt.Fprintf(&b, "\n[[piece]]\nnumber = %d\nat_mm = [%.1f, %.1f]\napplique = true  # %s; false: it is only a line\n", k.Number, at[0], at[1], stops)
	fmt.Fprintf(&b, "cloth = \"\"  # %.0f x %.0f mm to cut\nnote = \"\"\n", math.Ceil(k.CutSizeMM[0]), math.Ceil(k.CutSizeMM[1])) // as in the list of what to cut
	return b.Bytes()
}

// pieceAt is the middle of the box round a piece.
func pieceAt(k *report.Piece) [2]float64 {
	b := geom.BoxOf(k.Placement)
	return [2]float64{(b.Lo.X + b.Hi.X) / 2, (b.Lo.Y + b.Hi.Y) / 2}
}

func designTable(s Sign, roles []string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "\n[design]  # the stitches that these notes are for: %.1f x %.1f mm, %s; leave it as it is\n", float64(s.Width)/10, float64(s.Height)/10, words.Plural(len(s.Stops), "colour stop", "colour stops"))
	fmt.Fprintf(&b, "sign = %q\n%s\n", s.String(), readAsLine(roles))
	return b.Bytes()
}

func readAsLine(roles []string) string {
	quoted := make([]string, len(roles))
	for i, r := range roles {
		quoted[i] = strconv.Quote(r)
	}
	return "read_as = [" + strings.Join(quoted, ", ") + "]  # as inferred; delete this line once you have looked all roles over, and they count as yours"
}

func readAs(r *report.Report) []string {
	var roles []string
	for i := range r.Stops {
		roles = append(roles, r.Stops[i].Role)
	}
	return roles
}

// comment is text for a comment, where nothing needs quoting but what ends a line.
func comment(s string) string { return plainText(s, 300) }

// Update adds to a notes file what is new, and keeps what a person wrote. r is the
// report made without notes, as for Write. Roles that the person left as they were
// inferred follow the new reading. It is an error if the notes do not parse or are
// for other stitches than s.
func Update(path string, text []byte, r *report.Report, s Sign) ([]byte, error) {
	n, err := Parse(path, text)
	if err != nil {
		return nil, err
	}
	use, err := n.For(s, true)
	if err != nil {
		return nil, err
	}
	if use.Fit == NoFit || use.Fit == OtherSize {
		return nil, &Error{Path: path, Line: n.Design.Line, Problem: "these notes are for other stitches",
			Expected: fmt.Sprintf("notes on %s; --force writes new ones in their place", comment(r.Path))}
	}
	windows := bytes.Contains(text, []byte("\r\n")) // ends of lines, which are kept
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	lines := strings.SplitAfter(string(text), "\n")
	roles := readAs(r)
	end := len(lines)
	if n.Design != nil {
		end = n.Design.Line - 1
	}
	var added bytes.Buffer
	for i := range r.Stops {
		stop := &r.Stops[i]
		j := slices.IndexFunc(n.Stops, func(t Stop) bool { return t.Number == stop.Number })
		switch {
		case j < 0:
			added.Write(stopTable(stop))
		case n.left(&n.Stops[j]):
			replaceLine(lines, n.Stops[j].Line, end, "role", roleLine(stop))
		case n.Stops[j].Role != "":
			roles[i] = "" // the person's
		}
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		if !slices.ContainsFunc(n.Pieces, func(k Piece) bool { return k.at(p.Number, p.Placement) }) {
			added.Write(pieceTable(p))
		}
	}
	design := designTable(s, roles)
	if n.Design != nil {
		design = nil
		if len(n.Design.ReadAs) > 0 {
			replaceLine(lines, n.Design.Line, len(lines), "read_as", readAsLine(roles))
		}
	}
	var out bytes.Buffer
	if n.Title == "" && !strings.Contains(string(text), "title") {
		out.WriteString(titleLine)
	}
	out.WriteString(strings.Join(lines[:end], ""))
	if b := out.Bytes(); len(b) > 0 && b[len(b)-1] != '\n' {
		out.WriteByte('\n')
	}
	out.Write(added.Bytes())
	if added.Len() > 0 && end < len(lines) {
		out.WriteByte('\n')
	}
	out.WriteString(strings.Join(lines[end:], ""))
	out.Write(design)
	updated := out.Bytes()
	if windows {
		updated = bytes.ReplaceAll(updated, []byte("\n"), []byte("\r\n"))
	}
	if _, err := Parse(path, updated); err != nil {
		return nil, fmt.Errorf("%s cannot be updated line by line: %w", path, err)
	}
	return updated, nil
}

// left reports whether a stop's role is still as it was inferred.
func (n *Notes) left(s *Stop) bool {
	return n.Design != nil && len(n.Design.ReadAs) >= s.Number && s.Role != "" && n.Design.ReadAs[s.Number-1] == s.Role
}

// replaceLine replaces the line of a key in the table whose head stands in the given
// line, from 1.
func replaceLine(lines []string, head, end int, key, with string) {
	for i := head; i < min(end, len(lines)); i++ {
		line := strings.TrimSpace(lines[i])
		if strings.HasPrefix(line, "[") {
			return
		}
		if name, _, ok := strings.Cut(line, "="); ok && strings.TrimSpace(name) == key {
			lines[i] = with + "\n"
			return
		}
	}
}

// Two pieces are one in notes if their middles lie no further apart than samePlace
// mm, or this share of their size: the roundings of formats, and the drift that satin
// of one width brings between sizes.
const (
	samePlace  = 3.0
	pieceDrift = 0.05
)

package notes

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// fits are the words of report.NotesUsed.
var fits = [...]string{NoFit: "another design", Unbound: "not bound", SameStitches: "same stitches", OtherSize: "another size"}

// Said is what recognition has to heed.
func (u *Use) Said() *applique.Said {
	return &applique.Said{Roles: u.Roles(), Strike: u.strike}
}

// strike gives the pieces that are noted as none, by their index. A piece that is not
// there is an *Error, but in another size, where it may well be missing.
func (u *Use) strike(pieces []*applique.Piece) ([]int, error) {
	var out []int
	for _, k := range u.Pieces {
		i := slices.IndexFunc(pieces, func(p *applique.Piece) bool { return !p.Hole && k.at(p.Number, p.Place.Line) })
		switch {
		case i < 0 && u.Fit == OtherSize:
		case i < 0:
			n := 0
			for _, p := range pieces {
				if !p.Hole {
					n++
				}
			}
			problem := fmt.Sprintf("there is no piece %d", k.Number)
			if k.AtMM != nil {
				problem = fmt.Sprintf("there is no piece round %.1f, %.1f", k.AtMM[0], k.AtMM[1])
			}
			return nil, &Error{Path: u.Notes.Path, Line: k.Line, Problem: problem, Expected: upTo(n, "applique piece")}
		case !k.Applique:
			out = append(out, i)
		}
	}
	return out, nil
}

// Apply puts what is noted beside roles and pieces into a report: the title, threads,
// cloths and remarks.
func (u *Use) Apply(r *report.Report) {
	r.Notes = &report.NotesUsed{Path: u.Notes.Path, Fit: fits[u.Fit], Message: u.Message(), Look: u.Fit == NoFit || len(u.Left) > 0}
	if u.Fit == NoFit {
		return
	}
	r.Title = u.Notes.Title
	for i := range r.Stops {
		s := &r.Stops[i]
		said := u.Stops[s.Number]
		s.Note = said.Note
		if said.Thread != "" {
			s.ThreadName, s.ThreadNoted, s.AnyThread = said.Thread, true, false
		}
	}
	if bare := u.withoutPiece(r); len(bare) > 0 {
		r.Notes.Look = true
		if r.Notes.Message != "" {
			r.Notes.Message += "; "
		}
		r.Notes.Message += fmt.Sprintf("nothing lies along the lines of %s, so no piece can be made of what is noted there", words.ListStops(bare))
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		for _, k := range u.Pieces {
			if k.at(p.Number, p.Placement) {
				p.Cloth, p.Note = k.Cloth, k.Note
			}
		}
	}
}

// withoutPiece lists the stops that are noted as part of a piece and are in none.
func (u *Use) withoutPiece(r *report.Report) []int {
	var bare []int
	for number, s := range u.Stops {
		if s.Role != report.RolePlacementLine && s.Role != report.RoleTackDown {
			continue
		}
		if !slices.ContainsFunc(r.Pieces, func(p report.Piece) bool { return p.PlacementStop == number || p.TackDownStop == number }) {
			bare = append(bare, number)
		}
	}
	slices.Sort(bare)
	return bare
}

// at reports whether this is the piece of that number and placement line.
func (k *Piece) at(number int, line []geom.Point) bool {
	if k.AtMM == nil || len(line) == 0 {
		return k.Number == number
	}
	b := geom.BoxOf(line)
	at := geom.Point{X: (b.Lo.X + b.Hi.X) / 2, Y: (b.Lo.Y + b.Hi.Y) / 2}
	return geom.Distance(at, geom.Point{X: k.AtMM[0], Y: k.AtMM[1]}) <= max(samePlace, pieceDrift*max(b.Width(), b.Height()))
}

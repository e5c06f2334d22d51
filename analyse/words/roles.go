package words

import "github.com/stopcard/stopcard/analyse/report"

// edgeRoles name covers that are no satin.
var edgeRoles = map[report.Finish]string{
	report.FinishZigzag:  "zigzag edge",
	report.FinishBlanket: "blanket-stitch edge",
	report.FinishMotif:   "motif-line edge",
}

// Role says what a stop is for. A cover is called what it is made of.
func Role(r *report.Report, s *report.Stop) string {
	var pieces []int
	for _, part := range s.Parts {
		if part.Role == report.RoleCoverSatin && part.Piece > 0 {
			pieces = append(pieces, part.Piece)
		}
	}
	for i := range r.Pieces {
		if p := &r.Pieces[i]; p.CoverStop == s.Number {
			pieces = append(pieces, p.Number)
		}
	}
	return RoleOn(r, s.Role, pieces)
}

// RoleOn is a role in words for what is done to pieces. It is a cover satin where they
// are finished in several ways.
func RoleOn(r *report.Report, role string, pieces []int) string {
	if role != report.RoleCoverSatin {
		return role
	}
	name := ""
	for _, n := range pieces {
		p := r.Piece(n)
		if p == nil {
			continue
		}
		is, ok := edgeRoles[p.Finish]
		if !ok || name != "" && name != is {
			return role
		}
		name = is
	}
	if name == "" {
		return role
	}
	return name
}

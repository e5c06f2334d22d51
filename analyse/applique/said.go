package applique

import (
	"cmp"
	"context"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Said is what a person knows better than can be seen in the stitches. It is heeded
// before anything is worked out, so that whatever follows from it changes too. The
// zero value says nothing.
type Said struct {
	// Roles are those of colour stops by index.
	Roles map[int]string
	// Strike gives, by index, the pieces found that are none; nil for no such.
	// Its error ends the work.
	Strike func([]*Piece) ([]int, error)
}

// AsNoted is the reason of a role that a person gave.
const AsNoted = "as you noted"

// RecogniseWith is Recognise that heeds what a person said. Errors are those of said,
// and that of a context that ended.
func RecogniseWith(ctx context.Context, d *stitchfile.Design, said *Said) (*Recognised, error) {
	return recognise(ctx, d, said)
}

// mayBe reports whether a stop may have one of the roles: unless a person said that
// it has another.
func (s *Said) mayBe(stop int, roles ...string) bool {
	said, ok := s.role(stop)
	return !ok || slices.Contains(roles, said)
}

// is reports whether a person said that a stop has the role.
func (s *Said) is(stop int, role string) bool {
	said, ok := s.role(stop)
	return ok && said == role
}

func (s *Said) role(stop int) (string, bool) {
	if s == nil {
		return "", false
	}
	role, ok := s.Roles[stop]
	return role, ok
}

// strike takes back the pieces that are noted as none. The others keep their numbers,
// and with a piece go its holes.
func (p *finder) strike() error {
	if p.said == nil || p.said.Strike == nil {
		return nil
	}
	struck, err := p.said.Strike(p.work)
	if err != nil {
		return err
	}
	gone := map[*Piece]bool{}
	for _, i := range struck {
		gone[p.work[i]] = true
	}
	p.work = slices.DeleteFunc(p.work, func(k *Piece) bool { return gone[k] || gone[k.parent] })
	return nil
}

// heed gives stops the roles that a person said they have. What parts of a stop do
// stays where it is among them.
func (p *finder) heed() {
	if p.said == nil {
		return
	}
	for i := range p.roles {
		role, ok := p.said.role(i)
		if !ok {
			continue
		}
		s := &p.roles[i]
		s.Role, s.Confidence, s.Reason = role, 1, AsNoted
		s.Parts = slices.DeleteFunc(s.Parts, func(k report.Part) bool { return k.Role != role })
		slices.SortStableFunc(s.Parts, func(a, b report.Part) int { return cmp.Compare(a.Piece, b.Piece) })
		if len(s.Parts) < 2 {
			s.Parts = []report.Part{}
		}
	}
}

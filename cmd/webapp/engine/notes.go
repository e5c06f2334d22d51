package engine

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
	"github.com/stopcard/stopcard/stitchfile"
)

// Correction is what a person says of one design by pointing at it.
type Correction struct {
	Title  string      `json:"title"`
	Stops  []StopSaid  `json:"stops"`
	Pieces []PieceSaid `json:"pieces"`
}

// StopSaid is what is said of one colour stop; empty texts say nothing.
type StopSaid struct {
	Number int    `json:"number"`
	Role   string `json:"role"`
	Thread string `json:"thread"`
	Note   string `json:"note"`
}

// PieceSaid is what is said of one applique piece.
type PieceSaid struct {
	Number   int    `json:"number"`
	Applique bool   `json:"applique"`
	Cloth    string `json:"cloth"`
}

// Reading is how a design was read, stop by stop, for a person to correct.
type Reading struct {
	Roles  []string    `json:"roles"` // to choose from
	Title  string      `json:"title"`
	Notes  string      `json:"notes"` // which notes are obeyed, empty for none
	Stops  []ReadStop  `json:"stops"`
	Pieces []ReadPiece `json:"pieces"`
}

// ReadStop is one stop of a Reading.
type ReadStop struct {
	Number     int      `json:"number"`
	Colour     string   `json:"colour"` // "#rrggbb", empty where the file has none
	ColourName string   `json:"colour_name"`
	Role       string   `json:"role"`
	Reason     string   `json:"reason"`
	Confidence float64  `json:"confidence"`
	Said       StopSaid `json:"said"`
}

// ReadPiece is one piece of a Reading.
type ReadPiece struct {
	Number int       `json:"number"`
	Stop   int       `json:"stop"` // of its placement line, or of its tack-down
	Said   PieceSaid `json:"said"`
}

// addNotes takes a notes file up; it is obeyed for the designs that it lies beside or
// goes by.
func (e *Engine) addNotes(path string) {
	var n *notes.Notes
	text, err := readSmall(path)
	if err == nil {
		n, err = notes.Parse(path, text)
	}
	e.loose = slices.DeleteFunc(e.loose, func(n *notes.Notes) bool { return n.Path == path })
	if err != nil {
		e.lose(path, path, err)
		return
	}
	e.loose = append(e.loose, n)
}

// readSmall reads a notes file, a settings file or a thread box.
func readSmall(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if most := int64(max(notes.MaxBytes, settingsfile.MaxBytes)); info.Size() > most {
		return nil, fmt.Errorf("%s: %d bytes are too many; notes, settings and threads have at most %d", path, info.Size(), most)
	}
	return os.ReadFile(path)
}

// knownOf finds what is known of a design beside its stitches: colours of another file
// where it has none, and notes: what a person said here, then those that lie beside it
// as the command looks for them, then any given by themselves and written for its
// stitches.
func (e *Engine) knownOf(it *design) (analyse.Options, *stitchfile.Design, error) {
	o := e.options()
	near := it.near()
	var d *stitchfile.Design
	d, o.ColoursFrom = near.ColoursFor(it.path, it.read)
	if it.said != nil {
		o.Notes, o.NotesNamed = it.said, true
		return o, d, nil
	}
	sign := notes.SignOf(d)
	var err error
	o.Notes, o.NotesNamed, err = near.NotesFor(it.path, func() notes.Sign { return sign })
	if o.Notes != nil || err != nil {
		return o, d, err
	}
	for _, n := range e.loose {
		if n.Design == nil {
			continue
		}
		if fit, _ := n.Design.Sign.Against(sign, false); fit == notes.SameStitches || fit == notes.OtherSize {
			o.Notes = n
			break
		}
	}
	return o, d, nil
}

// Correct says what a person knows better of a design. Nothing said takes all back.
func (e *Engine) Correct(ctx context.Context, path string, c Correction) error {
	it, err := e.at(path)
	if err != nil {
		return err
	}
	was := it.said
	if it.said, err = e.noted(ctx, it, c); err != nil {
		it.said = was
		return err
	}
	if err := e.recognise(ctx, it); err != nil {
		it.said = was
		if again := e.recognise(ctx, it); again != nil {
			return again
		}
		return err
	}
	return nil
}

// noted makes notes of a correction by way of the file that would be saved, so that
// both say the same.
func (e *Engine) noted(ctx context.Context, it *design, c Correction) (*notes.Notes, error) {
	c.Stops = slices.DeleteFunc(slices.Clone(c.Stops), func(s StopSaid) bool { return s.Role == "" && s.Thread == "" && s.Note == "" })
	c.Pieces = slices.DeleteFunc(slices.Clone(c.Pieces), func(p PieceSaid) bool { return p.Applique && p.Cloth == "" })
	if c.Title == "" && len(c.Stops) == 0 && len(c.Pieces) == 0 {
		return nil, nil
	}
	text, err := e.write(ctx, it, c)
	if err != nil {
		return nil, err
	}
	return notes.Parse(it.path+" (as said here)", text)
}

// NotesFile is the notes of a design as the command reads them: what was said here or,
// where nothing was, all that was inferred, to be changed by hand.
func (e *Engine) NotesFile(ctx context.Context, path string, c Correction) ([]byte, error) {
	it, err := e.at(path)
	if err != nil {
		return nil, err
	}
	return e.write(ctx, it, c)
}

// write puts what was said after the head that binds the file to its stitches.
func (e *Engine) write(ctx context.Context, it *design, c Correction) ([]byte, error) {
	plain, err := analyse.Run(ctx, it.design, e.options())
	if err != nil {
		return nil, err
	}
	plain.Path = it.path
	all := notes.Write(plain, notes.SignOf(it.design))
	if c.Title == "" && len(c.Stops) == 0 && len(c.Pieces) == 0 {
		return all, nil
	}
	var out bytes.Buffer
	for line := range bytes.Lines(all) {
		if bytes.HasPrefix(line, []byte("[[")) {
			break
		}
		if bytes.HasPrefix(line, []byte("title")) && c.Title != "" {
			line = fmt.Appendf(nil, "title = %s\n", quoted(c.Title))
		}
		out.Write(line)
	}
	say := func(key, text string) {
		if text != "" {
			fmt.Fprintf(&out, "%s = %s\n", key, quoted(text))
		}
	}
	for _, s := range c.Stops {
		fmt.Fprintf(&out, "\n[[stop]]\nnumber = %d\n", s.Number)
		say("role", s.Role)
		say("thread", s.Thread)
		say("note", s.Note)
	}
	for _, p := range c.Pieces {
		fmt.Fprintf(&out, "\n[[piece]]\nnumber = %d\napplique = %t\n", p.Number, p.Applique)
		say("cloth", p.Cloth)
	}
	return out.Bytes(), nil
}

// quoted writes a text as TOML takes it.
func quoted(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, text)
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// Read tells how a design was read.
func (e *Engine) Read(ctx context.Context, path string) (*Reading, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	r := it.report
	out := &Reading{Roles: report.Roles(), Title: r.Name, Stops: []ReadStop{}, Pieces: []ReadPiece{}}
	n := it.noted.Notes
	said := map[int]notes.Stop{}
	if n != nil {
		out.Notes, out.Title = n.Path, n.Title
		for _, s := range n.Stops {
			said[s.Number] = s
		}
	}
	for i := range r.Stops {
		s := &r.Stops[i]
		k := said[s.Number]
		row := ReadStop{Number: s.Number, Role: s.Role, Reason: s.Reason, Confidence: s.Confidence,
			Said: StopSaid{s.Number, k.Role, k.Thread, k.Note}}
		if s.Colour != nil {
			row.Colour = *s.Colour
		}
		if s.ColourName != nil {
			row.ColourName = *s.ColourName
		}
		out.Stops = append(out.Stops, row)
	}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		out.Pieces = append(out.Pieces, ReadPiece{Number: p.Number, Stop: max(p.PlacementStop, 1), Said: PieceSaid{p.Number, true, ""}})
	}
	if n != nil {
		for _, p := range n.Pieces {
			i := slices.IndexFunc(out.Pieces, func(q ReadPiece) bool { return q.Number == p.Number })
			if i < 0 {
				out.Pieces = append(out.Pieces, ReadPiece{Number: p.Number})
				i = len(out.Pieces) - 1
			}
			out.Pieces[i].Said = PieceSaid{p.Number, p.Applique, p.Cloth}
		}
	}
	return out, nil
}

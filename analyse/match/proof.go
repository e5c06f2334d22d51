package match

import (
	"fmt"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// ProofSchema names the JSON form of a Proof.
const ProofSchema = "stopcard/proof/1"

// Proof is what a seller must know of a pack before it is published: whether all its
// files are one design, whether a size lacks a format, and what else is wrong.
type Proof struct {
	Schema   string         `json:"schema"`
	Ready    bool           `json:"ready"` // nothing must be mended
	Designs  []ProvenDesign `json:"designs"`
	Problems []Problem      `json:"problems"` // what must be mended, in all of them
	Notes    []Problem      `json:"notes"`    // what is worth a look
	Complete bool           `json:"complete"` // false: it was stopped before every file was read
}

// ProvenDesign is one design with its grid of sizes and formats.
type ProvenDesign struct {
	Name    string       `json:"name"`
	Formats []string     `json:"formats"` // the columns
	Sizes   []ProvenSize `json:"sizes"`   // the rows, the smallest first
}

// ProvenSize is one row of the grid.
type ProvenSize struct {
	WidthMM     float64        `json:"width_mm"`
	HeightMM    float64        `json:"height_mm"`
	Stitches    int            `json:"stitches"`
	ColourStops int            `json:"colour_stops"`
	Minutes     float64        `json:"minutes"`
	MachineMin  float64        `json:"machine_minutes"` // of Minutes, what the machine sews and trims
	Threads     int            `json:"threads"`         // different colours; 0 where no file tells them
	Hoops       []string       `json:"hoops"`           // common fields that hold it, mm
	Verdict     report.Verdict `json:"verdict"`
	Cells       []Cell         `json:"cells"` // by format, as in Formats
	Lead        string         `json:"lead"`  // the file that stands for the size
}

// Cell is one size in one format.
type Cell struct {
	Format string   `json:"format"`
	State  State    `json:"state"`
	Paths  []string `json:"paths"`
}

// State says what stands in a cell of the grid.
type State string

// What may stand in a cell.
const (
	There   State = "there"
	Missing State = "missing"   // other sizes have this format
	Twice   State = "duplicate" // the same stitches in two files
	Differs State = "differs"   // its stitches are not those of the size's other files
	Unasked State = "none"      // the size is no part of the set
)

// Problem is one thing to mend, or worth a look.
type Problem struct {
	Kind    ProblemKind `json:"kind"`
	Design  string      `json:"design"`
	SizeMM  *[2]float64 `json:"size_mm"` // nil where it is of no one size
	Path    string      `json:"path"`    // the file that it is about; empty for none
	Message string      `json:"message"`
	Advice  string      `json:"advice"`
}

// ProblemKind says what sort of problem it is.
type ProblemKind string

// The problems that a proof tells of.
const (
	MissingFile   ProblemKind = "missing file"
	DuplicateFile ProblemKind = "duplicate file"
	StrayFile     ProblemKind = "stray file"
	WrongName     ProblemKind = "wrong name"
	StretchedSize ProblemKind = "stretched size"
	OddEdition    ProblemKind = "stitches differ"
	OddStops      ProblemKind = "stops differ"
	OddLie        ProblemKind = "lies otherwise"
	OddSpacing    ProblemKind = "spacing differs"
	OddCuts       ProblemKind = "cuts differ"
	OddThreads    ProblemKind = "threads differ"
	OddTitle      ProblemKind = "names inside differ"
	Unreadable    ProblemKind = "cannot be read"
	HasFault      ProblemKind = "fault"
)

// Prove makes the proof of a pack from its matching.
func Prove(m *Matching) *Proof {
	p := &Proof{Schema: ProofSchema, Designs: []ProvenDesign{}, Problems: []Problem{}, Notes: []Problem{}, Complete: m.Complete}
	most := 0
	for i := range m.Designs {
		most = max(most, len(m.Designs[i].files()))
	}
	for i := range m.Designs {
		d := &m.Designs[i]
		if all := d.files(); len(all) == 1 && most > 2 {
			p.problem(Problem{Kind: StrayFile, Design: d.Name, Path: all[0].Path, SizeMM: &[2]float64{all[0].WidthMM, all[0].HeightMM},
				Message: fmt.Sprintf("%s is no size of the design that the other files hold", all[0].file()),
				Advice:  "Take it out of the pack, or add its other sizes and formats."})
			continue
		}
		p.design(d)
	}
	for _, u := range m.Unreadable {
		p.problem(Problem{Kind: Unreadable, Path: u.Path, Message: fmt.Sprintf("%s cannot be read: %s", baseName(u.Path), u.Error), Advice: "Write this file anew, or take it out of the pack."})
	}
	p.Ready = len(p.Problems) == 0 && len(p.Designs) > 0
	return p
}

func (p *Proof) problem(x Problem) { p.Problems = append(p.Problems, x) }
func (p *Proof) note(x Problem)    { p.Notes = append(p.Notes, x) }

// files are the files of a design in all sizes.
func (d *MatchedDesign) files() []*Signature {
	var out []*Signature
	for _, z := range d.Sizes {
		out = append(out, signsOf(z.Files)...)
	}
	return out
}

// design proves one design.
func (p *Proof) design(d *MatchedDesign) {
	out := ProvenDesign{Name: d.Name, Formats: []string{}, Sizes: []ProvenSize{}}
	for _, s := range d.files() {
		if !slices.Contains(out.Formats, s.Format) {
			out.Formats = append(out.Formats, s.Format)
		}
	}
	slices.Sort(out.Formats)
	// A format belongs to the set where at least two sizes that were drawn have it, or
	// where there is only one such size.
	drawn := 0
	have := map[string]int{}
	for i := range d.Sizes {
		z := &d.Sizes[i]
		if z.Verdict == report.StretchedCopy {
			continue
		}
		drawn++
		for _, f := range out.Formats {
			if slices.ContainsFunc(z.Files, func(x MatchedFile) bool { return x.Format == f }) {
				have[f]++
			}
		}
	}
	for i := range d.Sizes {
		out.Sizes = append(out.Sizes, p.size(d, &d.Sizes[i], out.Formats, func(f string) bool { return have[f] > 0 && drawn > 1 }))
	}
	p.Designs = append(p.Designs, out)
	p.findings(d)
	p.names(d)
	p.threads(d)
}

// size proves one row of the grid; wanted says which formats the set has.
func (p *Proof) size(d *MatchedDesign, z *MatchedSize, formats []string, wanted func(string) bool) ProvenSize {
	s := ProvenSize{WidthMM: z.WidthMM, HeightMM: z.HeightMM, Stitches: z.Stitches, ColourStops: z.ColourStops, Minutes: z.lead.Minutes, MachineMin: z.lead.machineMin,
		Hoops: words.HoopsFor(z.WidthMM, z.HeightMM), Verdict: z.Verdict, Lead: z.lead.Path, Cells: []Cell{}}
	// The file that tells its threads best shows the design as it is meant.
	most := 0
	for i := range z.Files {
		if f := &z.Files[i]; f.sign == z.lead {
			most = f.ColourWorth()
		}
	}
	for i := range z.Files {
		if f := &z.Files[i]; f.Edition == 1 && f.ColourWorth() > most {
			s.Lead, most = f.Path, f.ColourWorth()
		}
	}
	at := &[2]float64{z.WidthMM, z.HeightMM}
	for _, f := range z.Files {
		s.Threads = max(s.Threads, f.sign.threads())
	}
	for _, format := range formats {
		c := Cell{Format: format, State: Unasked, Paths: []string{}}
		var first *MatchedFile
		for i := range z.Files {
			f := &z.Files[i]
			if f.Format != format {
				continue
			}
			c.Paths = append(c.Paths, f.Path)
			switch {
			case first == nil:
				first, c.State = f, There
				if f.Edition > 1 {
					c.State = Differs
				}
			case first.Edition == f.Edition:
				if c.State == There {
					c.State = Twice
				}
				p.problem(Problem{Kind: DuplicateFile, Design: d.Name, SizeMM: at, Path: likelierCopy(first, f).Path,
					Message: fmt.Sprintf("%s and %s hold the same stitches in one format", first.sign.file(), f.sign.file()),
					Advice:  "Keep one of them, so that nobody wonders which is right."})
			default:
				c.State = Differs
			}
		}
		if first == nil && z.Verdict != report.StretchedCopy && wanted(format) {
			c.State = Missing
			p.problem(Problem{Kind: MissingFile, Design: d.Name, SizeMM: at,
				Message: fmt.Sprintf("the size %s has no %s file, though other sizes have", z.called(), format),
				Advice:  "Write it, or tell buyers that this size has none."})
		}
		s.Cells = append(s.Cells, c)
	}
	return s
}

// likelierCopy is the one of two equal files that looks like the copy by its name: the
// longer one.
func likelierCopy(a, b *MatchedFile) *MatchedFile {
	if len(a.sign.file()) > len(b.sign.file()) {
		return a
	}
	return b
}

// mending is what to do about what the comparison of files found, for the one who sells
// them: their own advice is for those who buy.
var mending = map[ProblemKind]string{
	StretchedSize: "Digitise this size anew, or leave it out.",
	OddEdition:    "Write every format of this size from one design.",
	OddStops:      "Write this file anew, so that all have the same stops.",
	OddLie:        "Write this size as the others lie, or tell buyers that it is meant.",
	OddCuts:       "Some formats hold no cuts. Tell those who buy it to look whether their machine cuts by itself.",
	OddSpacing:    "Give this size the spacing of the others, or tell buyers that it is meant.",
	HasFault:      "Mend it in the design and write all its formats, or leave the size out.",
}

// findings takes over what the comparison of files found, and the faults of each size.
func (p *Proof) findings(d *MatchedDesign) {
	kinds := map[string]ProblemKind{"stretched-copy": StretchedSize, "set-disagrees": OddStops}
	for _, f := range d.Findings {
		x := Problem{Kind: kinds[f.Rule], Design: d.Name, Message: f.Message, Advice: f.Advice}
		switch {
		case f.Rule == "set-disagrees" && f.Unit == "stitches":
			x.Kind = OddEdition
		case f.Rule == "set-disagrees" && f.Unit == "lie":
			x.Kind = OddLie
		case f.Rule == "set-disagrees" && f.Unit == "trims":
			x.Kind = OddCuts
		case f.Rule == "set-disagrees" && f.Unit == "mm":
			x.Kind = OddSpacing
		}
		if advice := mending[x.Kind]; advice != "" && f.Unit != "role" {
			x.Advice = advice
		}
		if f.Severity == report.Note {
			p.note(x)
			continue
		}
		p.problem(x)
	}
	for _, z := range d.Sizes {
		if z.Verdict == report.StretchedCopy {
			continue // told once: the size is to be left out
		}
		for _, f := range z.lead.faults {
			where := ""
			switch {
			case len(f.Stops) > 1:
				where = words.ListStops(f.Stops) + ": "
			case f.Stop > 0:
				where = fmt.Sprintf("stop %d: ", f.Stop)
			}
			p.problem(Problem{Kind: HasFault, Design: d.Name, SizeMM: &[2]float64{z.WidthMM, z.HeightMM}, Path: z.lead.Path,
				Message: fmt.Sprintf("the size %s has a fault (%s): %s%s", z.called(), f.Rule, where, f.Message), Advice: mending[HasFault]})
		}
	}
}

// names looks at the files' own names, and at the names inside them.
func (p *Proof) names(d *MatchedDesign) {
	all := d.files()
	wrong := wrongNames(all)
	inside := map[string]string{} // letters, as written
	for _, s := range all {
		if text, ok := wrong[s]; ok {
			p.problem(Problem{Kind: WrongName, Design: d.Name, SizeMM: &[2]float64{s.WidthMM, s.HeightMM}, Path: s.Path,
				Message: s.file() + ": " + text, Advice: "Rename it, or put the size into it that its name promises."})
		}
		letters := lettersOf(s.Name)
		if letters == "" {
			continue
		}
		for k := range inside {
			if strings.HasPrefix(k, letters) || strings.HasPrefix(letters, k) {
				letters = ""
				break
			}
		}
		if letters != "" {
			inside[letters] = s.Name
		}
	}
	if len(inside) > 1 {
		var list []string
		for _, name := range inside {
			list = append(list, "\""+name+"\"")
		}
		slices.Sort(list)
		p.note(Problem{Kind: OddTitle, Design: d.Name, Message: "the files name themselves differently inside: " + words.List(list), Advice: "A machine shows this name; give all files one."})
	}
}

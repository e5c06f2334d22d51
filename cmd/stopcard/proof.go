package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
	"github.com/stopcard/stopcard/render"
)

var proofVerb = verb{
	name:    "proof",
	args:    "PACK...",
	doc:     "is a pack ready to be published? Every size in every format, and what else is wrong",
	example: "stopcard proof -o proof.html pack.zip",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var p prover
		p.in.add(f)
		f.StringVarP(&p.out, "output", "o", "", "HTML file to write as well, with a picture of each size; - writes it, and nothing else, to standard output")
		f.BoolVar(&p.buyer, "buyer", false, "the sheet for those who buy it: sizes, stitches, threads, hoops, formats")
		f.BoolVar(&p.force, "force", false, "replace an existing file")
		f.BoolVar(&p.json, "json", false, "print one JSON document instead of text")
		return p.run
	},
}

// prover is one run of proof.
type prover struct {
	in                 inputFlags
	out                string
	buyer, force, json bool
}

func (p *prover) run(s *session, paths []string) int {
	if !s.kindFits("-o", p.out, ".html") {
		return exitUsage
	}
	if p.out == toStdout && p.json {
		s.complain("proof: -o - and --json both write to standard output; give one of them")
		return exitUsage
	}
	var signs []*match.Signature
	var items []render.ProofItem
	var held holding
	defer held.done()
	status, t := batch(&p.in, s, paths, func(got *input) *match.Signature {
		return match.Sign(got.known, got.report)
	}, func(got *input, sign *match.Signature) int {
		signs = append(signs, sign)
		if p.out != "" {
			held.hold(got)
			items = append(items, render.ProofItem{Design: got.design, Report: got.report, Sign: sign, Load: got.load})
		}
		return exitOK
	}, nil)
	if status == exitUsage {
		return status
	}
	found := s.matched(signs)
	found.Unreadable, found.Complete = append(found.Unreadable, t.unreadable...), found.Complete && !t.stopped
	proof := match.Prove(found)
	if !proof.Ready {
		status = max(status, exitFindings)
	}
	if p.out != "" {
		title := stem(paths[0])
		if !p.buyer {
			title = "Proof of " + title
		}
		err := s.deliver(p.out, p.force, sameFile(p.out, paths), func(w io.Writer) error {
			return render.ProofPage(w, proof, items, render.ProofOptions{Title: title, Buyer: p.buyer, Units: words.UnitsOf(&p.in.Settings), Context: s.context()})
		})
		if err != nil {
			s.complain("%v", err)
			if s.context().Err() != nil {
				return exitStopped
			}
			return exitUsage
		}
	}
	l := s.layout(&p.in)
	switch {
	case p.out == toStdout:
	case p.json:
		if err := s.printJSON(proof); err != nil {
			s.complain("the proof cannot be written: %v", err)
			return exitUnreadable
		}
	case p.buyer:
		l.buyerSheet(s.stdout, proof)
	default:
		l.proof(s.stdout, proof)
	}
	return status
}

// cellWords are what stands in a cell of the grid.
var cellWords = map[match.State]string{match.There: "yes", match.Missing: "MISSING", match.Twice: "TWICE", match.Differs: "DIFFERS", match.Unasked: "-"}

// proof writes the grid, what to mend, and the verdict.
func (l layout) proof(w io.Writer, p *match.Proof) {
	for i := range p.Designs {
		d := &p.Designs[i]
		fmt.Fprintf(w, "%s: %s in %s\n", clip(printable(d.Name), l.width-30), words.Count(len(d.Sizes), "size"), words.Count(len(d.Formats), "format"))
		fmt.Fprintf(w, "  %s", pad(l.sizeHead(), 15))
		for _, f := range d.Formats {
			fmt.Fprintf(w, " %s", pad(f, 7))
		}
		fmt.Fprintf(w, " %5s %8s  %s\n", "stops", "stitches", "made")
		for k := range d.Sizes {
			z := &d.Sizes[k]
			fmt.Fprintf(w, "  %s", pad(l.sizeCell(z.WidthMM, z.HeightMM), 15))
			for _, c := range z.Cells {
				fmt.Fprintf(w, " %s", pad(cellWords[c.State], 7))
			}
			fmt.Fprintf(w, " %5d %8d  %s\n", z.ColourStops, z.Stitches, z.Verdict)
			l.para(w, 18, "", l.units.HoopFor(z.WidthMM, z.HeightMM))
		}
		fmt.Fprintln(w)
	}
	for _, part := range []struct {
		head string
		all  []match.Problem
	}{{"To mend", p.Problems}, {"Worth a look", p.Notes}} {
		if len(part.all) == 0 {
			continue
		}
		fmt.Fprintln(w, part.head)
		for i, x := range part.all {
			fmt.Fprintf(w, "  %d. %s\n", i+1, x.Kind)
			l.para(w, 5, "", printable(x.Message))
			l.para(w, 5, "", printable(x.Advice))
		}
		fmt.Fprintln(w)
	}
	l.para(w, 0, "", match.VerdictWords(p))
}

// buyerSheet writes what those who buy a pack want to know.
func (l layout) buyerSheet(w io.Writer, p *match.Proof) {
	for i := range p.Designs {
		d := &p.Designs[i]
		fmt.Fprintf(w, "%s\n", clip(printable(d.Name), l.width))
		fmt.Fprintf(w, "  %s %s %8s %5s %7s  %s\n", pad("size mm", 15), pad("inches", 13), "stitches", "stops", "threads", "smallest usual hoop, mm")
		for k := range d.Sizes {
			z := &d.Sizes[k]
			if z.Verdict == report.StretchedCopy {
				continue
			}
			threads, hoop := "-", "larger than usual"
			if z.Threads > 0 {
				threads = fmt.Sprint(z.Threads)
			}
			if len(z.Hoops) > 0 {
				hoop = z.Hoops[0]
			}
			fmt.Fprintf(w, "  %s %s %8d %5d %7s  %s\n", pad(fmt.Sprintf("%.1f x %.1f", z.WidthMM, z.HeightMM), 15),
				pad(fmt.Sprintf("%.2f x %.2f", z.WidthMM/settingsfile.MMPerInch, z.HeightMM/settingsfile.MMPerInch), 13), z.Stitches, z.ColourStops, threads, hoop)
		}
		l.para(w, 2, "", "Formats: "+strings.Join(d.Formats, ", "))
		fmt.Fprintln(w)
	}
	l.para(w, 0, "", "Sizes are those of the stitches. See in your machine's manual which hoops and formats it takes.")
}

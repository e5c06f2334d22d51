package analyse_test

import (
	"bytes"
	"context"
	"fmt"
	"log"
	"strings"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// demoBlock reads one of the demo designs, as stitchfile.Open reads a file.
func demoBlock(name string) *stitchfile.Design {
	data, err := demo.Files.ReadFile(name)
	if err != nil {
		log.Fatal(err)
	}
	d, err := stitchfile.Decode(bytes.NewReader(data))
	if err != nil {
		log.Fatal(err)
	}
	return d
}

// Read one design and tell what it is.
func Example() {
	r, _ := analyse.Run(context.Background(), demoBlock("kettle-100.pes"), analyse.Options{})
	fmt.Printf("%s, %.0f x %.0f mm, %d colour stops\n", r.Format, r.WidthMM, r.HeightMM, r.ColourStops)
	// Output: PES, 100 x 100 mm, 22 colour stops
}

// List what the first stops are for, and what the hands do there.
func Example_stops() {
	r, _ := analyse.Run(context.Background(), demoBlock("kettle-150.pes"), analyse.Options{})
	for _, s := range r.Stops[:4] {
		fmt.Printf("%d %s\n", s.Number, s.Role)
		for _, step := range s.AfterSteps {
			if step.Kind == report.StepHoopOff {
				fmt.Println("  then:", step.Text)
			}
		}
	}
	// Output:
	// 1 cloth outline
	// 2 cloth hold-down
	// 3 placement line
	// 4 tack-down
	//   then: machine stopped: take the hoop off, cloth still in the hoop
}

// Find where satin is too thin. The stretched copy of a design keeps the
// stitches of the smaller one, further apart.
func Example_thinPlaces() {
	for _, name := range []string{"kettle-125.dst", "kettle-135-stretched.dst"} {
		r, _ := analyse.Run(context.Background(), demoBlock(name), analyse.Options{})
		thin := 0
		for _, f := range r.Findings {
			if f.Rule == "thin-cover" && f.AtMM != nil {
				thin++
			}
		}
		fmt.Println(name, "has thin places:", thin > 0)
	}
	// Output:
	// kettle-125.dst has thin places: false
	// kettle-135-stretched.dst has thin places: true
}

// Write a rule of one's own, here that no colour is taken up again after another,
// since each change costs time.
func Example_ownRule() {
	again := rules.Rule{
		ID: "colour-again", Doc: "a colour comes back after another", Severity: report.Note,
		Limits:   []report.Limit{{Name: "colour-again", Default: 9, Unit: "stops", Reason: "the spool is still at hand"}},
		Requires: []*measure.Step{measure.Sizes},
		Check: func(p *rules.Pass) (found []report.Finding) {
			seen := map[string]int{}
			for _, s := range p.Report.Stops {
				if last := seen[*s.Colour]; last > 0 && float64(s.Number-last) > p.Limit("colour-again") {
					found = append(found, report.Finding{Severity: report.Note, Stop: s.Number, Message: fmt.Sprintf("last used in stop %d", last)})
				}
				seen[*s.Colour] = s.Number
			}
			return found
		},
	}
	r, err := analyse.Run(context.Background(), demoBlock("kettle-150.pes"), analyse.Options{Rules: append(rules.All(), again)})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range r.Findings {
		if f.Rule == again.ID {
			fmt.Printf("stop %d: %s\n", f.Stop, f.Message)
		}
	}
	// Output:
	// stop 17: last used in stop 6
	// stop 18: last used in stop 4
	// stop 21: last used in stop 1
}

// Gather what twelve blocks need, joined three by four.
func ExampleGather() {
	set := report.DefaultSettings()
	r, _ := analyse.Run(context.Background(), demoBlock("kettle-150.pes"), analyse.Options{})
	g := gather.DefaultSettings()
	g.Blocks, g.Columns, g.Rows = 12, 3, 4
	list := gather.Gather(gather.All([]*report.Report{r}), set, g)
	for _, c := range list.Cloths {
		if strings.HasPrefix(c.Kind, "applique") {
			fmt.Printf("piece %d: cut %d\n", c.Piece, c.Count)
		}
	}
	fmt.Printf("joined %.1f x %.1f mm\n", list.Joined.RawMM[0], list.Joined.RawMM[1])
	// Output:
	// piece 1: cut 12
	// piece 2: cut 12
	// joined 444.7 x 588.7 mm
}

// Blocks whose outline is 6 in square are cut at 6 1/2 in and finish at 6 in ("Allowing
// for allowances", quilting lesson).
func ExampleJoin() {
	j := gather.Join(152.4, 152.4, 2, 2, gather.SeamMM)
	fmt.Printf("cut %.1f in, each shows %.1f in, all four %.1f in\n", j.BlockMM[0]/25.4, j.FinishedMM[0]/25.4, j.InsideMM[0]/25.4)
	// Output: cut 6.5 in, each shows 6.0 in, all four 12.0 in
}

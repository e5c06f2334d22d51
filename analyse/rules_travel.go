package analyse

import "fmt"

var (
	untrimmedRule = Rule{ID: "untrimmed-jump", Doc: "a thread left loose over the cloth between two sewn parts",
		Limit: inWords("untrimmed-jump"), Check: untrimmed}
	noTieRule = Rule{ID: "no-tie", Doc: "a thread that starts or ends without lock stitches",
		Limit: inWords("no-tie"), Check: noTie}
)

func untrimmed(p *Pass) []Finding {
	limit := p.Settings.Limit("untrimmed-jump")
	var out []Finding
	for i, threads := range p.travel.loose {
		n, worst := 0, loose{}
		var all float64
		for _, l := range threads {
			if l.length <= limit {
				continue
			}
			n++
			all += l.length
			if l.length > worst.length {
				worst = l
			}
		}
		if n == 0 {
			continue
		}
		out = append(out, Finding{Severity: Caution, Stop: i + 1, AtMM: at(middle(worst.from, worst.to)), Measured: worst.length, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%s longer than %.0f mm left loose, the longest %.0f mm, %.0f mm in all", plural(n, "thread", "threads"), limit, worst.length, all),
			Advice:  "Cut these threads by hand before later stitching catches them: machine stopped, scissors flat. A machine that trims by itself may do it for you."})
	}
	return out
}

func noTie(p *Pass) []Finding {
	limit := p.Settings.Limit("no-tie")
	var out []Finding
	for i, ends := range p.travel.untied {
		if len(ends) == 0 {
			continue
		}
		out = append(out, Finding{Severity: Note, Stop: i + 1, AtMM: at(ends[0]), Measured: float64(len(ends)), Limit: limit, Unit: "ends",
			Message: fmt.Sprintf("%s without lock stitches", plural(len(ends), "thread end", "thread ends")),
			Advice:  "Let the machine tie off here if it can, or leave long tails and knot them. Stitching that is covered later needs none."})
	}
	return out
}

package gather

import (
	"github.com/stopcard/stopcard/analyse/report"
)

// Order is an order of work that changes threads least: designs whose last thread is the
// first of another come before it, and where there are several hoops each thread is sewn
// in all of them before the next is put in, there and back again.
type Order struct {
	Designs       []int   `json:"designs"`        // indices in Gathering.Designs
	Hoops         int     `json:"hoops"`          // sewn in turn
	ThreadChanges int     `json:"thread_changes"` // in this order
	OneByOne      int     `json:"one_by_one"`     // thread changes block by block, as the designs were given
	HoopSwaps     int     `json:"hoop_swaps"`     // between two hoops of one round
	SavedMinutes  float64 `json:"saved_minutes"`  // changes that are saved, less the swaps
}

// orderOf finds the order of work. A change of thread costs stopSeconds.
func orderOf(designs []Wanted, g Settings, stopSeconds float64) Order {
	o := Order{Designs: []int{}, Hoops: max(1, g.Hoops)}
	given := make([]int, len(designs))
	for i := range given {
		given[i] = i
	}
	o.OneByOne, _ = changes(designs, given, 1)
	left := append([]int{}, given...)
	last := ""
	for len(left) > 0 {
		pick := 0
		for k, d := range left {
			if all := threadGroups(designs[d].Report); last != "" && len(all) > 0 && all[0] == last {
				pick = k
				break
			}
		}
		d := left[pick]
		left = append(left[:pick], left[pick+1:]...)
		o.Designs = append(o.Designs, d)
		if all := threadGroups(designs[d].Report); len(all) > 0 {
			last = all[len(all)-1]
		}
	}
	o.ThreadChanges, o.HoopSwaps = changes(designs, o.Designs, o.Hoops)
	o.SavedMinutes = (float64(o.OneByOne-o.ThreadChanges)*stopSeconds - float64(o.HoopSwaps)*g.SwapSeconds) / 60
	return o
}

// threadGroups is the threads of a design in sewing order, one after the other of one
// colour taken together. A stop without a colour is a thread of its own.
func threadGroups(r *report.Report) []string {
	var out []string
	for i := range r.Stops {
		c := ""
		switch s := &r.Stops[i]; {
		case s.Spool != nil && s.Spool.Near != report.NearOff && !s.AnyThread:
			c = "own " + s.Spool.Name
		case s.ThreadNoted:
			c = "noted " + s.ThreadName
		case s.Colour != nil:
			c = *s.Colour
		}
		if n := len(out); n == 0 || c == "" || out[n-1] != c {
			out = append(out, c)
		}
	}
	return out
}

// changes counts how often a thread is put in, and how often one hoop makes way for
// another of its round, where so many hoops are sewn in turn.
func changes(designs []Wanted, order []int, hoops int) (threads, swaps int) {
	last := ""
	for _, d := range order {
		groups := threadGroups(designs[d].Report)
		for left := designs[d].Count; left > 0; left -= hoops {
			round := min(left, hoops)
			for _, c := range groups {
				if c == "" || c != last {
					threads++
				}
				last = c
				swaps += round - 1
			}
		}
	}
	return threads, swaps
}

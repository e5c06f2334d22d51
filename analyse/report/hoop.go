package report

import "fmt"

// Material is what the hands lay in the hoop.
type Material string

const (
	Stabiliser    Material = "stabiliser"     // or the block cloth itself, hooped with it, where no stop holds that down
	BlockCloth    Material = "block cloth"    // the ground of the block
	AppliqueCloth Material = "applique cloth" // a piece laid on it
	Batting       Material = "batting"        // the layer that pads it
	Backing       Material = "backing"        // the cloth behind it all
)

// Materials lists what may lie in the hoop.
func Materials() []Material {
	return []Material{Stabiliser, BlockCloth, AppliqueCloth, Batting, Backing}
}

// LyingState is how something lies in the hoop.
type LyingState string

const (
	Hooped  LyingState = "hooped"  // in the hoop from the beginning
	Laid    LyingState = "laid"    // loose, or with a little tape: nothing is sewn through it yet
	Held    LyingState = "held"    // sewn down, its edge not cut
	Trimmed LyingState = "trimmed" // sewn down or laid, and cut to its shape
	Covered LyingState = "covered" // its cut edge lies under the stitching that finishes it
)

// LyingStates lists the ways in which things lie, in their usual order.
func LyingStates() []LyingState { return []LyingState{Hooped, Laid, Held, Trimmed, Covered} }

// HoopSide is a side of the work in the hoop.
type HoopSide string

const (
	Face      HoopSide = "face"      // the side towards the needle
	Underside HoopSide = "underside" // the side towards the bobbin
)

// Lying is one thing that lies in the hoop.
type Lying struct {
	What     Material   `json:"what"`
	Piece    int        `json:"piece"` // number of the applique piece, 0 for none
	State    LyingState `json:"state"`
	Side     HoopSide   `json:"side"`
	FaceDown bool       `json:"face_down"` // its right side lies on the work, to be turned out later
}

// StepKind says what sort of hand work a Step is.
type StepKind uint8

const (
	StepNote         StepKind = iota // nothing to do, good to know
	StepLay                          // lay cloth, batting or backing
	StepTrim                         // trim with scissors
	StepHoopOff                      // take the hoop off the machine
	StepHoopOn                       // put the hoop back
	StepTurnOver                     // turn the hoop over, underside up
	StepChangeThread                 // put another thread in
	StepMayEnd                       // the block may end here
	StepTurnOut                      // turn the work right side out
)

var stepKindNames = [...]string{"note", "lay", "trim", "hoop off", "hoop on", "turn over", "change thread", "may end", "turn out"}

// StepKinds lists the kinds of steps, in the order of the constants.
func StepKinds() []StepKind {
	out := make([]StepKind, len(stepKindNames))
	for i := range out {
		out[i] = StepKind(i)
	}
	return out
}

// String gives the kind in words, such as "hoop off".
func (k StepKind) String() string {
	if int(k) < len(stepKindNames) {
		return stepKindNames[k]
	}
	return "unknown step"
}

// MarshalText gives the kind in words.
func (k StepKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads a kind in words. A kind that it does not know, as a later
// version may have written, is an error.
func (k *StepKind) UnmarshalText(text []byte) error {
	for i, name := range stepKindNames {
		if name == string(text) {
			*k = StepKind(i)
			return nil
		}
	}
	return fmt.Errorf("report: no kind of step is called %q", text)
}

// Hands reports whether a step of this kind asks for the hands while the machine
// waits: laying, trimming, the hoop off and on, turning.
func (k StepKind) Hands() bool {
	switch k {
	case StepLay, StepTrim, StepHoopOff, StepHoopOn, StepTurnOver, StepTurnOut:
		return true
	}
	return false
}

// Step is one thing the hands do.
type Step struct {
	Kind   StepKind `json:"kind"`
	What   Material `json:"what,omitempty"`   // what is laid or trimmed; absent for the hoop itself, and where all layers are cut together
	Pieces []int    `json:"pieces,omitempty"` // numbers of the applique pieces it is about
	Text   string   `json:"text"`
}

package stitchfile

import "testing"

// A file may hold runs of any length: what they go is not lost where it passes 32 bits.
func TestEvenStepsOfLongRuns(t *testing.T) {
	const n = 1 << 16
	moves := make([]Move, n)
	for i := range moves {
		moves[i] = Move{X: 1 << 16 * int32((i+1)%2), Kind: Jump}
	}
	moves[n-1].X = 0
	moves[n-1].Y = 1
	if evenSteps(Move{}, moves) {
		t.Error("jumps to and fro are taken for one long move")
	}
}

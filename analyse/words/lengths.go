package words

import (
	"fmt"
	"math"
)

// eighthMM is an eighth of a yard, by which cloth is sold: 4 1/2 inches.
const eighthMM = 114.3

// Eighths is how many eighths of a yard hold a length in mm.
func Eighths(mm float64) int {
	if mm <= 0 {
		return 0
	}
	return int(math.Ceil(mm/eighthMM - 1e-9))
}

// Yards writes eighths of a yard as a shop does: "1 3/8 yd".
func Yards(eighths int) string {
	whole, rest := eighths/8, eighths%8
	part := ""
	switch {
	case rest == 4:
		part = "1/2"
	case rest%2 == 0 && rest > 0:
		part = fmt.Sprintf("%d/4", rest/2)
	case rest > 0:
		part = fmt.Sprintf("%d/8", rest)
	}
	switch {
	case part == "":
		return fmt.Sprintf("%d yd", whole)
	case whole == 0:
		return part + " yd"
	}
	return fmt.Sprintf("%d %s yd", whole, part)
}

// Package applique says what a design makes: which lines are placement lines and
// tack-downs, what covers them, which pieces of cloth there are, and what each
// colour stop is for. It is done once for a design, and holds for every size of it.
package applique

// Package notes holds what a person knows better about a design than can be seen in
// its stitches: what a colour stop is for, that a line is no applique, the thread
// and cloth to take, a title and remarks. It lies in a small TOML file beside the
// design, and is bound to it by a sign of the stitches that all formats of one size
// share, and that tells other sizes of the same design.
//
//	title = "Kettle and Pear, 150 mm"
//
//	[[stop]]
//	number = 3
//	role = "placement line"
//	thread = "pine"
//	note = "the wash-away spool"
//
//	[[piece]]
//	number = 2
//	applique = false
package notes

// Package gather adds up what the designs to be sewn need: thread, cloth, bobbins
// and time.
package gather

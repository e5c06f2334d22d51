// Package render draws what package analyse found: a thread-like picture of a
// design, and the card to pin up by the machine.
//
// Pictures are drawn at true scale: a thread is as wide on the picture as it
// lies on the cloth. Nothing is measured here that a report lacks.
package render

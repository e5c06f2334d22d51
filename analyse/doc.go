// Package analyse measures a design and says what it found.
//
// Run takes a design as package stitchfile reads it and gives a Report: counts,
// size, colour stops with their threads and roles, time, and findings. The
// JSON form of a Report is the schema "stopcard/report/1".
//
// Lengths are in millimetres, thread in metres, time in minutes. Positions have
// their origin at the centre of the box around all needle penetrations, X to
// the right and Y up.
package analyse

// Package report holds what is told of a design: the types of a Report and of the
// Settings and Limits it was made with. It computes nothing.
//
// The JSON form of a Document is the schema "stopcard/report/1". Lengths are in
// millimetres, thread in metres, time in minutes. Positions have their origin at
// the centre of the box around all needle penetrations, X to the right and Y up.
package report

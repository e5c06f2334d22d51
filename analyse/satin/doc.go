// Package satin finds satin columns, open zigzags and bars of fill as crossings
// between two rails, and measures them: width, pitch, coverage.
package satin

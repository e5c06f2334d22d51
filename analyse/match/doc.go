// Package match tells which files are one design, in which sizes, and which of them
// are copies of others.
package match

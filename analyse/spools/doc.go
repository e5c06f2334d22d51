// Package spools picks threads out of a person's own box for the colours of a design.
package spools

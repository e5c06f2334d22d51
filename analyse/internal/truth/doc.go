// Package truth holds designs built by hand whose every stitch, or every colour
// stop, is known, to hold package analyse against. What is right here was
// written down from how such things are digitised, not from what the analysis
// says of them.
package truth

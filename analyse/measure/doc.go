// Package measure says how much there is of what was recognised, at any scale:
// cover along the cut edges, density, travel, time and thread.
package measure

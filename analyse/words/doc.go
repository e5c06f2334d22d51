// Package words writes figures as people say them: plurals, lists, times and
// colours, each in one place, so that a figure reads alike wherever it is shown.
package words

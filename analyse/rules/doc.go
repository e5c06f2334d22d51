// Package rules holds the checks: each looks at what was measured and tells what a
// person should know before any cloth is cut.
package rules

package main

import "github.com/spf13/pflag"

// verb is one thing the command does.
type verb struct {
	name    string
	args    string // what follows the flags, for the usage line
	doc     string
	example string
	// prints: it only prints, and leaves nothing half done where it is ended at once.
	prints bool
	// prepare adds the verb's flags and gives the function that runs it.
	prepare func(*pflag.FlagSet) func(*session, []string) int
}

// flagSet is the verb's flags, as help, completion and manual page show them,
// and the function that runs it.
func (v verb) flagSet() (*pflag.FlagSet, func(*session, []string) int) {
	flags := pflag.NewFlagSet(v.name, pflag.ContinueOnError)
	flags.SortFlags = false
	run := v.prepare(flags)
	return flags, run
}

// split parts a verb's own flags from those that all reading verbs share.
func split(flags *pflag.FlagSet) (own, shared *pflag.FlagSet) {
	own = pflag.NewFlagSet("", pflag.ContinueOnError)
	shared = pflag.NewFlagSet("", pflag.ContinueOnError)
	own.SortFlags, shared.SortFlags = false, false
	flags.VisitAll(func(f *pflag.Flag) {
		if _, ok := f.Annotations[sharedFlag]; ok {
			shared.AddFlag(f)
		} else {
			own.AddFlag(f)
		}
	})
	return own, shared
}

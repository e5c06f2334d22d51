package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var completionVerb = verb{
	name:    "completion",
	prints:  true,
	args:    "bash|zsh|fish",
	doc:     "a script that lets the shell complete verbs and flags",
	example: "stopcard completion bash > ~/.local/share/bash-completion/completions/stopcard",
	prepare: func(*pflag.FlagSet) func(*session, []string) int {
		return func(s *session, args []string) int {
			write := map[string]func(io.Writer, []verb){"bash": bashCompletion, "zsh": zshCompletion, "fish": fishCompletion}
			if len(args) != 1 || write[args[0]] == nil {
				s.complain("completion: expected the name of a shell: bash, zsh or fish")
				return exitUsage
			}
			write[args[0]](s.stdout, s.verbs)
			return exitOK
		}
	},
}

// argumentWords lists what an argument or a flag's value may be, nil where that is
// open.
func argumentWords(f *pflag.Flag) []string {
	switch f.Name {
	case "only", "skip":
		var ids []string
		for _, r := range rules.All() {
			ids = append(ids, r.ID)
		}
		return ids
	case "view":
		return viewNames()
	case "paper":
		return settingsfile.PaperNames()
	case "limit":
		var names []string
		for _, l := range report.Limits() {
			names = append(names, l.Name+"=")
		}
		return names
	}
	if kind := f.Value.Type(); strings.Contains(kind, "|") {
		return strings.Split(kind, "|")
	}
	return nil
}

// takesValue reports whether a flag is followed by a value.
func takesValue(f *pflag.Flag) bool { return f.NoOptDefVal == "" }

// takesFile reports whether a flag's value is a file or folder.
func takesFile(f *pflag.Flag) bool {
	return f.Name == "settings" || f.Name == "output" || strings.Contains(f.Value.Type(), "file")
}

// choices are the words a verb takes in place of files.
func (v verb) choices() []string {
	if strings.Contains(v.args, "|") {
		return strings.Split(v.args, "|")
	}
	return nil
}

// eachFlag calls f for the verb's flags and for --help.
func (v verb) eachFlag(f func(*pflag.Flag)) {
	flags, _ := v.flagSet()
	flags.BoolP("help", "h", false, "show the flags and an example")
	flags.VisitAll(f)
}

func bashCompletion(w io.Writer, verbs []verb) {
	var names []string
	for _, v := range verbs {
		names = append(names, v.name)
	}
	list := func(words []string) string { return "$'" + strings.Join(words, `\n`) + "'" }
	fmt.Fprintf(w, `# Completion for bash; made by 'stopcard completion bash'.
_stopcard() {
    local IFS=$'\n' cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} verb=${COMP_WORDS[1]} flags= words=
    if [[ $cur == = ]]; then cur=
    elif [[ $prev == = ]]; then prev=${COMP_WORDS[COMP_CWORD-2]}
    fi
    COMPREPLY=()
    if [[ $COMP_CWORD == 1 && $cur != -* ]]; then
        COMPREPLY=($(compgen -W %s -- "$cur"; compgen -f -- "$cur"))
        return
    fi
    case "$verb $prev" in
`, list(append(names, "help")))
	for _, v := range verbs {
		v.eachFlag(func(f *pflag.Flag) {
			what := argumentWords(f)
			if what == nil && (!takesValue(f) || takesFile(f)) {
				return
			}
			names := fmt.Sprintf(`"%s --%s"`, v.name, f.Name)
			if f.Shorthand != "" {
				names += fmt.Sprintf(`|"%s -%s"`, v.name, f.Shorthand)
			}
			if what == nil {
				fmt.Fprintf(w, "        %s) return ;;\n", names)
			} else {
				fmt.Fprintf(w, "        %s) COMPREPLY=($(compgen -W %s -- \"$cur\")); return ;;\n", names, list(what))
			}
		})
	}
	fmt.Fprintf(w, "    esac\n    case $verb in\n")
	for _, v := range append(slices.Clip(verbs), verb{name: "help", args: strings.Join(names, "|"), prepare: versionVerb.prepare}) {
		var flags []string
		v.eachFlag(func(f *pflag.Flag) { flags = append(flags, "--"+f.Name) })
		fmt.Fprintf(w, "        %s) flags=%s words=%s ;;\n", v.name, list(flags), list(v.choices()))
	}
	var flags []string
	plainVerb(nil).eachFlag(func(f *pflag.Flag) { flags = append(flags, "--"+f.Name) })
	fmt.Fprintf(w, `        *) flags=%s ;;
    esac
    if [[ $cur == -* ]]; then COMPREPLY=($(compgen -W "$flags" -- "$cur"))
    elif [[ $words ]]; then COMPREPLY=($(compgen -W "$words" -- "$cur"))
    else COMPREPLY=($(compgen -f -- "$cur"))
    fi
}
complete -o filenames -F _stopcard stopcard
`, list(flags))
}

func zshCompletion(w io.Writer, verbs []verb) {
	inBrackets := strings.NewReplacer(`\`, `\\`, `'`, `'\''`, `[`, `\[`, `]`, `\]`, `:`, `\:`)
	fmt.Fprintf(w, "#compdef stopcard\n# Completion for zsh; made by 'stopcard completion zsh'.\n\n_stopcard() {\n    local -a verbs\n    verbs=(\n")
	for _, v := range verbs {
		fmt.Fprintf(w, "        '%s:%s'\n", v.name, inBrackets.Replace(v.doc))
	}
	fmt.Fprintf(w, `    )
    if (( CURRENT == 2 )); then
        _describe verb verbs
        _files
        return
    fi
    local verb=$words[2]
    shift words
    (( CURRENT-- ))
    case $verb in
`)
	for _, v := range verbs {
		fmt.Fprintf(w, "        %s) _arguments -S", v.name)
		v.eachFlag(func(f *pflag.Flag) {
			spec := fmt.Sprintf("--%s[%s]", f.Name, inBrackets.Replace(f.Usage))
			if takesValue(f) {
				spec = fmt.Sprintf("--%s=[%s]:%s:", f.Name, inBrackets.Replace(f.Usage), inBrackets.Replace(kindOf(f)))
				switch what := argumentWords(f); {
				case what != nil:
					spec += "(" + strings.Join(what, " ") + ")"
				case takesFile(f):
					spec += "_files"
				}
			}
			fmt.Fprintf(w, " \\\n            '%s'", spec)
		})
		rest := "*:file:_files"
		if c := v.choices(); c != nil {
			rest = "1:word:(" + strings.Join(c, " ") + ")"
		} else if v.args == "" {
			rest = ""
		}
		if rest != "" {
			fmt.Fprintf(w, " \\\n            '%s'", rest)
		}
		fmt.Fprintf(w, " ;;\n")
	}
	fmt.Fprintf(w, `        *) _files ;;
    esac
}

if [[ $funcstack[1] == _stopcard ]]; then
    _stopcard "$@"
else
    compdef _stopcard stopcard
fi
`)
}

func fishCompletion(w io.Writer, verbs []verb) {
	quote := strings.NewReplacer(`\`, `\\`, `'`, `\'`)
	fmt.Fprintf(w, "# Completion for fish; made by 'stopcard completion fish'.\n")
	for _, v := range verbs {
		fmt.Fprintf(w, "complete -c stopcard -n __fish_use_subcommand -a %s -d '%s'\n", v.name, quote.Replace(v.doc))
	}
	for _, v := range verbs {
		on := fmt.Sprintf("complete -c stopcard -n '__fish_seen_subcommand_from %s'", v.name)
		if c := v.choices(); c != nil {
			fmt.Fprintf(w, "%s -x -a '%s'\n", on, strings.Join(c, " "))
		} else if v.args == "" {
			fmt.Fprintf(w, "%s -f\n", on)
		}
		v.eachFlag(func(f *pflag.Flag) {
			line := fmt.Sprintf("%s -l %s", on, f.Name)
			if f.Shorthand != "" {
				line += " -s " + f.Shorthand
			}
			switch what := argumentWords(f); {
			case what != nil:
				line += fmt.Sprintf(" -x -a '%s'", strings.Join(what, " "))
			case takesFile(f):
				line += " -r -F"
			case takesValue(f):
				line += " -x"
			}
			fmt.Fprintf(w, "%s -d '%s'\n", line, quote.Replace(f.Usage))
		})
	}
}

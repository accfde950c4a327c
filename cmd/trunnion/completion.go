package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish,powershell" help:"Which shell: ${enum}."`
}

// Run prints completions made from the commands and flags as they stand. The libraries
// that do it for kong know bash, zsh and fish and not PowerShell, which is what a
// workshop's machine has, and start the program at every press of the key.
func (c *completionCommand) Run(s streams, k *kong.Kong) error {
	list := offers(k.Model.Node)
	switch c.Shell {
	case "bash":
		bash(s.out, list)
	case "zsh":
		// zsh reads bash's completions once it is told to.
		say(s.out, "%s\n", "#compdef trunnion")
		say(s.out, "%s\n", "autoload -U +X bashcompinit && bashcompinit")
		bash(s.out, list)
	case "fish":
		fish(s.out, list)
	case "powershell":
		powershell(s.out, list)
	}
	return nil
}

// offer is what can follow one command.
type offer struct {
	command, help string
	flags         []flagOffer
	words         []string // its first argument can be, where that is a choice
	files         bool     // its first argument is a file or folder
}

type flagOffer struct {
	name, help string
	words      []string // its value can be, where that is a choice
	bare       bool     // takes no value
}

func offers(root *kong.Node) []offer {
	var out []offer
	for _, node := range root.Children {
		o := offer{command: node.Name, help: node.Help}
		for _, f := range append(append([]*kong.Flag{}, node.Flags...), root.Flags...) {
			o.flags = append(o.flags, flagOffer{name: f.Name, help: kong.DefaultHelpValueFormatter(f.Value), words: choice(f.Value), bare: f.IsBool()})
		}
		for _, child := range node.Children {
			o.words = append(o.words, child.Name)
			for _, f := range child.Flags {
				if !slices.ContainsFunc(o.flags, func(one flagOffer) bool { return one.name == f.Name }) {
					o.flags = append(o.flags, flagOffer{name: f.Name, help: kong.DefaultHelpValueFormatter(f.Value), words: choice(f.Value), bare: f.IsBool()})
				}
			}
		}
		if len(node.Positional) > 0 {
			o.words = choice(node.Positional[0])
			o.files = len(o.words) == 0 && node.Name != "explain"
		}
		out = append(out, o)
	}
	return out
}

func choice(v *kong.Value) []string {
	if v.Enum == "" {
		return nil
	}
	return strings.Split(v.Enum, ",")
}

func bash(w io.Writer, list []offer) {
	var commands []string
	for _, o := range list {
		commands = append(commands, o.command)
	}
	say(w, `_trunnion() {
  local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}" words="" files=""
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "%s --help" -- "$word"))
    return
  fi
  case "${COMP_WORDS[1]}:$before" in
`, strings.Join(commands, " "))
	for _, o := range list {
		for _, f := range o.flags {
			if len(f.words) > 0 {
				say(w, "    %s:--%s) COMPREPLY=($(compgen -W \"%s\" -- \"$word\")); return ;;\n", o.command, f.name, strings.Join(f.words, " "))
			}
		}
	}
	say(w, "  esac\n  case \"${COMP_WORDS[1]}\" in\n")
	for _, o := range list {
		words := append([]string{}, o.words...)
		for _, f := range o.flags {
			words = append(words, "--"+f.name)
		}
		files := ""
		if o.files {
			files = "yes"
		}
		say(w, "    %s) words=\"%s\" files=\"%s\" ;;\n", o.command, strings.Join(words, " "), files)
	}
	say(w, `  esac
  COMPREPLY=($(compgen -W "$words" -- "$word"))
  if [ -n "$files" ] && [ "${word#-}" = "$word" ]; then
    COMPREPLY+=($(compgen -f -- "$word"))
  fi
}
complete -o filenames -F _trunnion trunnion
`)
}

func fish(w io.Writer, list []offer) {
	say(w, "%s\n", "complete -c trunnion -f")
	for _, o := range list {
		say(w, "complete -c trunnion -n __fish_use_subcommand -a %s -d %s\n", o.command, quoted(o.help))
		seen := fmt.Sprintf("'__fish_seen_subcommand_from %s'", o.command)
		for _, f := range o.flags {
			line := fmt.Sprintf("complete -c trunnion -n %s -l %s -d %s", seen, f.name, quoted(f.help))
			switch {
			case len(f.words) > 0:
				line += " -x -a " + quoted(strings.Join(f.words, " "))
			case !f.bare:
				line += " -x"
			}
			say(w, "%s\n", line)
		}
		if len(o.words) > 0 {
			say(w, "complete -c trunnion -n %s -a %s\n", seen, quoted(strings.Join(o.words, " ")))
		}
		if o.files {
			say(w, "complete -c trunnion -n %s -F\n", seen)
		}
	}
}

func powershell(w io.Writer, list []offer) {
	say(w, "Register-ArgumentCompleter -Native -CommandName trunnion -ScriptBlock {\n"+
		"  param($word, $ast, $at)\n"+
		"  $said = @($ast.CommandElements | ForEach-Object { $_.ToString() })\n"+
		"  $before = if ($word) { $said[-2] } else { $said[-1] }\n"+
		"  $offers = @{\n")
	var commands []string
	for _, o := range list {
		commands = append(commands, quoted(o.command))
		words := []string{}
		for _, x := range o.words {
			words = append(words, quoted(x))
		}
		for _, f := range o.flags {
			words = append(words, quoted("--"+f.name))
			if len(f.words) > 0 {
				var values []string
				for _, x := range f.words {
					values = append(values, quoted(x))
				}
				say(w, "    %s = @(%s)\n", quoted(o.command+" --"+f.name), strings.Join(values, ", "))
			}
		}
		say(w, "    %s = @(%s)\n", quoted(o.command), strings.Join(words, ", "))
	}
	say(w, "  }\n"+
		"  $words = @(%s)\n"+
		"  if ($said.Count -gt 2 -or ($said.Count -eq 2 -and -not $word)) {\n"+
		"    $words = $offers[\"$($said[1]) $before\"]\n"+
		"    if (-not $words) { $words = $offers[$said[1]] }\n"+
		"  }\n"+
		"  $words | Where-Object { $_ -like \"$word*\" } | ForEach-Object {\n"+
		"    [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_)\n"+
		"  }\n"+
		"}\n", strings.Join(commands, ", "))
}

// quoted is a text in single quotes, as these shells read them.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", "’") + "'" }

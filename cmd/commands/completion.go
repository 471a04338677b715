package commands

import (
	"cmp"
	_ "embed" // the scripts
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

var (
	//go:embed completion/bash
	bashScript string
	//go:embed completion/zsh
	zshScript string
	//go:embed completion/fish
	fishScript string
	//go:embed completion/powershell
	powershellScript string
)

// shells are the shells for which words can be completed.
var shells = []struct{ name, script string }{
	{"bash", bashScript}, {"fish", fishScript}, {"powershell", powershellScript}, {"zsh", zshScript},
}

func completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print what makes a shell complete commands, flags, plan files and ids",
		ArgsUsage: "SHELL",
		Description: "SHELL is bash, fish, powershell or zsh. The script asks plinth itself, so it does not grow " +
			"old. Ids of\n" +
			"buildings, for explain, are those of a register's first rows. No test runs the script of " +
			"PowerShell.\n\n" +
			"Examples:\n" +
			"   plinth completion bash > ~/.local/share/bash-completion/completions/plinth\n" +
			"   plinth completion fish > ~/.config/fish/completions/plinth.fish\n" +
			"   source <(plinth completion zsh)      in ~/.zshrc, behind compinit",
		OnUsageError: asUsage,
		Action: func(c *cli.Context) error {
			args, err := arguments(c, "SHELL")
			if err != nil {
				return err
			}
			for _, s := range shells {
				if s.name == args[0] {
					_, err := fmt.Fprint(c.App.Writer, s.script)
					return err
				}
			}
			return &usageError{fmt.Errorf("no completion for %q; there is one for %s", args[0],
				strings.Join(shellNames(), ", "))}
		},
	}
}

func shellNames() []string {
	var names []string
	for _, s := range shells {
		names = append(names, s.name)
	}
	return names
}

// completeCommand returns the command that the scripts call. It prints what the last of the words
// after plinth may become, one a line.
func completeCommand() *cli.Command {
	return &cli.Command{
		Name: "complete", Hidden: true, SkipFlagParsing: true,
		Action: func(c *cli.Context) error {
			for _, word := range candidates(c.App, c.Args().Slice()) {
				fmt.Fprintln(c.App.Writer, word)
			}
			return nil
		},
	}
}

// candidates returns in order what the last of words may become.
func candidates(app *cli.App, words []string) []string {
	if len(words) == 0 {
		words = []string{""}
	}
	last := words[len(words)-1]
	if len(words) == 1 {
		return beginning(last, append(commandNames(app), "--help", "--version"))
	}
	command := app.Command(words[0])
	if command == nil {
		return nil
	}
	var given []string // arguments before the last word
	value := ""        // what the flag before it wants
	for _, w := range words[1 : len(words)-1] {
		switch {
		case value != "":
			value = ""
		case strings.HasPrefix(w, "-"):
			value = valueOf(command, w)
		default:
			given = append(given, w)
		}
	}
	switch {
	case value != "":
		return valuesOf(value, last)
	case strings.HasPrefix(last, "-"):
		return beginning(last, flagNames(command))
	}
	wants := strings.Fields(command.ArgsUsage)
	if len(given) >= len(wants) {
		return nil
	}
	if want := wants[len(given)]; want != "ID" {
		return valuesOf(want, last)
	}
	return beginning(last, idsOf(given[0]))
}

// valuesOf returns what may stand for a placeholder of the help, such as PLAN.
func valuesOf(what, begin string) []string {
	switch what {
	case "PLAN":
		return paths(begin, func(name string) bool { return filepath.Ext(name) == ".toml" })
	case "FILE":
		return paths(begin, func(string) bool { return true })
	case "DIR":
		return paths(begin, func(string) bool { return false })
	case "SHELL":
		return beginning(begin, shellNames())
	}
	return nil
}

// paths returns the folders, and the files that fit, whose paths begin with begin.
func paths(begin string, fits func(name string) bool) []string {
	dir, prefix := filepath.Split(begin)
	entries, err := os.ReadDir(cmp.Or(dir, "."))
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, prefix) || strings.HasPrefix(name, ".") && prefix == "" {
			continue
		}
		switch info, err := os.Stat(filepath.Join(dir, name)); {
		case err != nil:
		case info.IsDir():
			out = append(out, dir+name+string(filepath.Separator))
		case fits(name):
			out = append(out, dir+name)
		}
	}
	return out
}

// valueOf returns the placeholder of the value of a flag, such as FILE, and "" for a flag without a
// value.
func valueOf(command *cli.Command, word string) string {
	for _, f := range command.VisibleFlags() {
		d, ok := f.(cli.DocGenerationFlag)
		if ok && d.TakesValue() && slices.Contains(f.Names(), strings.TrimLeft(word, "-")) {
			_, rest, _ := strings.Cut(d.GetUsage(), "`")
			want, _, _ := strings.Cut(rest, "`")
			return want
		}
	}
	return ""
}

func commandNames(app *cli.App) []string {
	var names []string
	for _, c := range app.VisibleCommands() {
		names = append(names, c.Name)
	}
	return names
}

func flagNames(command *cli.Command) []string {
	names := []string{"--help"}
	for _, f := range command.VisibleFlags() {
		if name := "--" + f.Names()[0]; name != "--help" {
			names = append(names, name)
		}
	}
	return names
}

// beginning returns in order the words that begin with begin.
func beginning(begin string, words []string) []string {
	var out []string
	for _, w := range words {
		if strings.HasPrefix(w, begin) {
			out = append(out, w)
		}
	}
	slices.Sort(out)
	return out
}

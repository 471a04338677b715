package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// platforms are the systems for which a program is examined, since the linked modules differ
// slightly.
var platforms = [][2]string{{"linux", "amd64"}, {"linux", "arm64"}, {"darwin", "arm64"}, {"windows", "amd64"}}

// module is a linked module, or Go itself.
type module struct {
	Path, Version string
	Files         []file // its licences and notices, sorted by name
}

// file is a licence or a notice, of the whole module or of one of its folders.
type file struct {
	Name string // path within the module, with slashes
	Text []byte
}

// linked returns Go and every module with a package that the program in folder links on any
// platform, sorted with Go first, without modules of this repository.
func linked(folder string) ([]module, error) {
	goroot, err := output(folder, nil, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	root := strings.TrimSpace(string(goroot))
	files, err := notices(root, root)
	if err != nil {
		return nil, err
	}
	list := []module{{Path: "Go", Version: "it is built with", Files: files}}
	seen := map[string]bool{}
	for _, p := range platforms {
		out, err := output(folder, []string{"GOOS=" + p[0], "GOARCH=" + p[1], "CGO_ENABLED=0"}, "list",
			"-deps", "-json=Dir,Module", ".")
		if err != nil {
			return nil, err
		}
		for d := json.NewDecoder(strings.NewReader(string(out))); ; {
			var pkg struct {
				Dir    string
				Module *struct{ Path, Version, Dir string }
			}
			if err := d.Decode(&pkg); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				return nil, fmt.Errorf("go list: %w", err)
			}
			if pkg.Module == nil || pkg.Module.Version == "" ||
				strings.HasPrefix(pkg.Module.Path+"/", "plinth/") || seen[pkg.Dir] {
				continue // Go's own, ours, or found on another platform
			}
			seen[pkg.Dir] = true
			i := slices.IndexFunc(list, func(m module) bool { return m.Path == pkg.Module.Path })
			if i < 0 {
				i = len(list)
				list = append(list, module{Path: pkg.Module.Path, Version: pkg.Module.Version})
			}
			files, err := notices(pkg.Dir, pkg.Module.Dir)
			if err != nil {
				return nil, err
			}
			list[i].Files = append(list[i].Files, files...)
		}
	}
	for i := range list {
		slices.SortFunc(list[i].Files, func(a, b file) int { return strings.Compare(a.Name, b.Name) })
		list[i].Files = slices.CompactFunc(list[i].Files, func(a, b file) bool { return a.Name == b.Name })
	}
	slices.SortFunc(list[1:], func(a, b module) int { return strings.Compare(a.Path, b.Path) })
	return list, nil
}

// output runs the go command in folder.
func output(folder string, env []string, words ...string) ([]byte, error) {
	c := exec.Command("go", words...)
	c.Dir, c.Env = folder, append(os.Environ(), env...)
	var said strings.Builder
	c.Stderr = &said
	out, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s in %s: %w\n%s", strings.Join(words, " "), folder, err, said.String())
	}
	return out, nil
}

// legal matches the name of a file with a licence or a notice.
var legal = regexp.MustCompile(`(?i)^(licen[cs]e|unlicense|copying|notice|patents)([-_.].*)?$`)

// notices reads the licences and notices in folder and in every folder above it up to root.
func notices(folder, root string) ([]file, error) {
	var list []file
	for ; strings.HasPrefix(folder, root); folder = filepath.Dir(folder) {
		entries, err := os.ReadDir(folder)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if !e.Type().IsRegular() || filepath.Ext(e.Name()) == ".go" || !legal.MatchString(e.Name()) {
				continue
			}
			f, err := read(filepath.Join(folder, e.Name()), root)
			if err != nil {
				return nil, err
			}
			list = append(list, f)
			if more := byHand[f.sum()].More; more != "" {
				f, err := read(filepath.Join(folder, more), root)
				if err != nil {
					return nil, err
				}
				list = append(list, f)
			}
		}
	}
	return list, nil
}

func read(path, root string) (file, error) {
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return file{}, fmt.Errorf("%s, which a reading in byhand.go names, is not there: read the licence "+
			"again", path)
	}
	name, _ := filepath.Rel(root, path)
	return file{filepath.ToSlash(name), text}, err
}

package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/pelletier/go-toml/v2"
)

// Load reads the plan at path over the defaults, resolves its paths against the folder of the plan,
// and checks it. The error is that of reading the file, or Problems with everything that is wrong
// with the plan.
func Load(path string) (*Plan, error) {
	doc, err := read(path)
	if err != nil {
		return nil, fmt.Errorf("plan %s cannot be read: %w; give the path of a plan file, or write a demo with "+
			"`plinth sample DIR`", path, errors.Unwrap(err))
	}
	p, err := Parse(path, doc)
	if err != nil {
		return nil, err
	}
	p.resolve(filepath.Dir(path))
	return p, nil
}

// LoadRegister reads a plan as Load does, for a command that needs the register alone: the plan
// may have no table [hazard]. Its kind of hazard then is "".
func LoadRegister(path string) (*Plan, error) {
	doc, err := read(path)
	if err != nil {
		return Load(path) // it says what is wrong
	}
	var tree map[string]any
	if toml.Unmarshal(doc, &tree) != nil || tree["hazard"] != nil || len(doc) > mostBytes {
		return Load(path)
	}
	p, err := parse(path, doc, true)
	if err != nil {
		return nil, err
	}
	p.resolve(filepath.Dir(path))
	return p, nil
}

// read returns the bytes of a plan. If the plan is too long, it returns one byte more than is
// allowed.
func read(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, mostBytes+1))
}

// Limits of a plan, far above what a plan needs (judgement): its bytes, and the parts of a dotted
// key. The longest known key has four parts. Without the second limit, a short file could keep the
// TOML reader busy for minutes.
const (
	mostBytes = 4 << 20
	mostParts = 16
)

// Parse reads the plan in doc over the defaults. file names it in problems. Paths are left as
// written.
func Parse(file string, doc []byte) (*Plan, error) { return parse(file, doc, false) }

// parse is Parse; bare lets a plan be without a hazard.
func parse(file string, doc []byte, bare bool) (*Plan, error) {
	doc = bytes.TrimPrefix(doc, []byte("\xef\xbb\xbf"))
	if len(doc) > mostBytes {
		return nil, Problems{{File: file, Rule: fmt.Sprintf("more than %d MB, which is no plan", mostBytes>>20),
			Remedy: "give the path of a plan file"}}
	}
	at, long := positions(doc)
	if long != "" {
		return nil, Problems{{File: file, Line: at[long].line, Column: at[long].column,
			Key:    long[:min(len(long), 60)],
			Rule:   fmt.Sprintf("a key of more than %d parts", mostParts),
			Remedy: "no key of a plan has more than four"}}
	}
	var tree map[string]any
	if err := toml.Unmarshal(doc, &tree); err != nil {
		return nil, Problems{syntaxProblem(file, err)}
	}
	p := Default()
	p.file, p.at = file, at
	c := checker{file: file, at: p.at, bare: bare}
	root := p.root()
	c.table(&root, tree)
	// What is left of the tree has the shape of a Plan, so its meaning can be checked along with what
	// was wrong.
	if err := fill(p, tree); err != nil {
		return nil, Problems{syntaxProblem(file, err)}
	}
	c.meaning(p)
	if len(c.problems) > 0 {
		c.problems.sort()
		return nil, c.problems
	}
	return p, nil
}

// fill writes the values of tree into p.
func fill(p *Plan, tree map[string]any) error {
	errs := []error{decode(tree, p)}
	measures, _ := tree["measures"].(map[string]any)
	for slug, o := range p.Measures.Options {
		errs = append(errs, decode(measures[slug], o))
	}
	return errors.Join(errs...)
}

// decode writes a table of the tree into the struct that v points to.
func decode(table, v any) error {
	if table == nil {
		return nil
	}
	doc, err := toml.Marshal(table)
	if err != nil {
		return err
	}
	return toml.Unmarshal(doc, v)
}

func syntaxProblem(file string, err error) Problem {
	pr := Problem{File: file, Rule: err.Error(), Remedy: "the file must be TOML 1.0 (https://toml.io)"}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		pr.Line, pr.Column = de.Position()
	}
	return pr
}

// resolve resolves the paths of the plan against the folder of the plan.
func (p *Plan) resolve(dir string) {
	p.dir = dir
	for _, path := range p.paths() {
		if *path != "" && !filepath.IsAbs(*path) {
			*path = filepath.Join(dir, *path)
		}
	}
}

// paths returns the addresses of all paths in the plan.
func (p *Plan) paths() []*string {
	list := []*string{&p.Inventory.Path, &p.Hazard.Path, &p.Hazard.SiteZones, &p.Archetypes.Systems,
		&p.Archetypes.Eras, &p.Output.Folder, &p.Budget.Terms, &p.Consequence.Tables}
	for i := range p.Confirm.RecordFiles {
		list = append(list, &p.Confirm.RecordFiles[i])
	}
	return list
}

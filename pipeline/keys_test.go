package pipeline

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/confirm"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/screen"
)

// Every key of the plan changes something: another legal value gives other files, or a run
// that refuses it. The keys are those of docs/plan.md. What a key needs to matter, and other
// values where a number twice or half as large will not do, stand in keyTrials.
func TestEveryKeyOfThePlanHasAnEffect(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b := newKeyBench(t)
	known := make(map[string]bool)
	for _, k := range plan.Reference() {
		known[k.Key] = true
		for i, c := range k.Key {
			if c == '.' {
				known[k.Key[:i]] = true
			}
		}
		t.Run(k.Key, func(t *testing.T) {
			trial := trialOf(k.Key)
			before := b.run(t, trial, nil)
			require.Empty(t, string(before["error"]), "the plan that the key is tried on must run")
			values := trial.values
			if values == nil {
				values = otherValues(t, k, b.value(t, trial, k.Key))
			}
			for _, v := range values {
				if changed(before, b.run(t, trial, func(tree map[string]any) { set(tree, k.Key, v) })) {
					return
				}
			}
			t.Errorf("none of %v changes anything", values)
		})
	}
	for key := range keyTrials {
		assert.True(t, known[key], "%s is no key of the plan", key)
	}
}

// A keyTrial says under what plan a key is tried, and how.
type keyTrial struct {
	with   string // keys added to the plan first
	does   func(*assess.Study) error
	values []any // other values; made from the range where there are none
}

// trialOf returns the trial of a key, that of its table or the plain one.
func trialOf(key string) keyTrial {
	for {
		trial, ok := keyTrials[key]
		above := strings.LastIndexByte(key, '.')
		if ok || above < 0 {
			return trial
		}
		key = key[:above]
	}
}

// A keyBench runs plans over a small stock.
type keyBench struct {
	dir  string
	runs map[string]map[string][]byte // of plans that ran before
}

func newKeyBench(t *testing.T) *keyBench {
	b := &keyBench{t.TempDir(), make(map[string]map[string][]byte)}
	for name, text := range keyFiles(t) {
		require.NoError(t, os.WriteFile(filepath.Join(b.dir, name), []byte(text), 0o600))
	}
	b.run(t, keyTrial{with: "[output]\nformats = [\"gpkg\"]\n"}, nil)
	from, to := filepath.Join(b.dir, "out", "buildings.gpkg"), filepath.Join(b.dir, "town.gpkg")
	require.NoError(t, os.Rename(from, to))
	keyInput["town.gpkg"] = true
	return b
}

// tree returns the plan of a trial.
func (b *keyBench) tree(t *testing.T, trial keyTrial) map[string]any {
	var tree, with map[string]any
	require.NoError(t, toml.Unmarshal([]byte(keyPlan), &tree))
	require.NoError(t, toml.Unmarshal([]byte(trial.with), &with))
	merge(tree, with)
	return tree
}

// value returns what a key has in the plan of a trial, the default where it is silent.
func (b *keyBench) value(t *testing.T, trial keyTrial, key string) any {
	doc, err := toml.Marshal(b.tree(t, trial))
	require.NoError(t, err)
	p, err := plan.Parse("plan.toml", doc)
	require.NoError(t, err)
	var v any = p.Effective()
	for name := range strings.SplitSeq(key, ".") {
		v = v.(map[string]any)[name]
	}
	return v
}

// run returns the files of a run of the trial's plan after change, and why it was refused
// under the name error. A plan must be legal.
func (b *keyBench) run(t *testing.T, trial keyTrial, change func(map[string]any)) map[string][]byte {
	tree := b.tree(t, trial)
	if change != nil {
		change(tree)
	}
	doc, err := toml.Marshal(tree)
	require.NoError(t, err)
	key := fmt.Sprintf("%p", trial.does) + string(doc)
	if b.runs[key] != nil {
		return b.runs[key]
	}
	path := filepath.Join(b.dir, "plan.toml")
	require.NoError(t, os.WriteFile(path, doc, 0o600))
	p, err := plan.Load(path)
	require.NoError(t, err)
	require.NoError(t, os.RemoveAll(filepath.Join(b.dir, "out")))
	require.NoError(t, os.RemoveAll(p.Output.Folder))
	out := make(map[string][]byte)
	study, err := assess.Open(p)
	if err == nil {
		does := trial.does
		if does == nil {
			does = screens
		}
		err = does(study)
	}
	if err != nil {
		out["error"] = []byte(err.Error())
	}
	require.NoError(t, filepath.WalkDir(b.dir, func(path string, e fs.DirEntry, err error) error {
		rel, _ := filepath.Rel(b.dir, path)
		switch {
		case err != nil || filepath.Base(path) == output.ManifestName || keyInput[rel]:
			return err
		case e.IsDir():
			out[rel] = []byte(e.Type().String())
			return nil
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		text, err := os.ReadFile(path)
		out[rel] = append([]byte(info.Mode().String()), text...)
		return err
	}))
	b.runs[key] = out
	return out
}

func screens(study *assess.Study) error {
	_, err := screen.Stock(context.Background(), study, assess.Settings{Workers: 1, Checkpoint: -1})
	return err
}

// tolerates is an error where the run rejects more rows than its plan tolerates.
func tolerates(study *assess.Study) error {
	res, err := screen.Stock(context.Background(), study, assess.Settings{Workers: 1, Checkpoint: -1})
	if err != nil {
		return err
	}
	t, err := plan.ParseTolerance(study.Plan().Inventory.Tolerate)
	if n := res.Summary.Counts; err == nil && !t.Allows(n.Rejected, n.In) {
		err = errors.New("more rows are rejected than tolerated")
	}
	return err
}

func confirms(study *assess.Study) error {
	_, err := confirm.Shortlist(context.Background(), study, assess.Settings{Workers: 1})
	return err
}

func budgets(study *assess.Study) error {
	if err := screens(study); err != nil {
		return err
	}
	_, err := budget.Choose(context.Background(), study, assess.Settings{Workers: 1})
	return err
}

// changed reports whether two runs wrote different files.
func changed(a, b map[string][]byte) bool {
	return !maps.EqualFunc(a, b, bytes.Equal)
}

// merge adds the keys of with to tree, and takes those away that are empty there.
func merge(tree, with map[string]any) {
	for name, v := range with {
		sub, isTable := v.(map[string]any)
		if old, ok := tree[name].(map[string]any); ok && isTable {
			merge(old, sub)
			continue
		}
		if v == "" {
			delete(tree, name)
			continue
		}
		tree[name] = v
	}
}

// set gives a dotted key of tree a value.
func set(tree map[string]any, key string, v any) {
	names := strings.Split(key, ".")
	for _, name := range names[:len(names)-1] {
		if tree[name] == nil {
			tree[name] = map[string]any{}
		}
		tree = tree[name].(map[string]any)
	}
	merge(tree, map[string]any{names[len(names)-1]: v})
}

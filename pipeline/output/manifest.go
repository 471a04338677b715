package output

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
)

// ManifestName is the name of the manifest in the folder of a run.
const ManifestName = "manifest.json"

// A Manifest lists what a run read, computed and wrote. It is enough to repeat the run and to check
// its files. It holds no time and no name of a machine: equal runs write equal manifests.
type Manifest struct {
	About
	Counts     Counts      `json:"counts"`
	Seeds      []Seed      `json:"seeds"`
	Notes      []string    `json:"method_notes"`
	Checks     []RankCheck `json:"rank_checks,omitempty"`
	Inputs     []Input     `json:"inputs"`
	PlanSHA256 string      `json:"plan_sha256"` // of HashPlan
	Plan       any         `json:"plan"`        // the whole effective plan

	// Filled on writing.
	Go       string    `json:"go_version"`
	Cautions []string  `json:"cautions"`
	Files    []Written `json:"files"`
}

// Counts are the rows that were read from the register and what became of them.
type Counts struct {
	In       int64  `json:"rows_in"`
	Out      int64  `json:"buildings_out"`
	Rejected int64  `json:"rejected"`
	Equation string `json:"equation"` // filled on writing
}

// A Seed is the seed of one stream of random numbers. JSON holds it as text, since many readers
// lose digits of numbers beyond 2^53.
type Seed struct {
	Name  string `json:"name"`
	Value uint64 `json:"value,string"`
}

// A RankCheck compares the rank of buildings with a naive order, one made without any calculation.
// If the naive order explained the rank, the calculation would not have been worth its while.
type RankCheck struct {
	Order   string  `json:"order"`
	Tau     float64 `json:"kendall_tau"` // tau-b, 1 for the same order
	Top     int     `json:"top"`         // how many places Overlap looks at
	Overlap float64 `json:"top_overlap"` // share of the first Top that are the same buildings
}

// An Input is one file that was read.
type Input struct {
	Name   string `json:"name"` // as in the plan
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// Written is one file that was written.
type Written struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	Rows   int64  `json:"rows"` // 0 for a file that is not a table
	SHA256 string `json:"sha256"`
}

// ErrUnbalanced says that the counts of a manifest do not add up: rows were lost on the way. It is
// a mistake of the program.
var ErrUnbalanced = errors.New("output: rows in are not buildings out plus rejected")

// Write writes m as JSON.
func (m *Manifest) Write(w io.Writer) error {
	c := &m.Counts
	if c.In != c.Out+c.Rejected {
		return fmt.Errorf("%w: %d in, %d out, %d rejected", ErrUnbalanced, c.In, c.Out, c.Rejected)
	}
	c.Equation = fmt.Sprintf("%d in = %d out + %d rejected", c.In, c.Out, c.Rejected)
	m.Go, m.Cautions = runtime.Version(), Cautions
	b, err := encode(m)
	if err != nil {
		return fmt.Errorf("manifest: %w", err)
	}
	_, err = w.Write(b)
	return err
}

// errForeign is wrapped by the error of a file that was read and is not a manifest.
var errForeign = errors.New("not the manifest of a run")

// ReadManifest reads the manifest of the run in folder dir.
func ReadManifest(dir string) (*Manifest, error) {
	path := filepath.Join(dir, ManifestName)
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	m, err := parseManifest(b)
	if err != nil {
		return nil, fmt.Errorf("%s: %w: %w", path, errForeign, err)
	}
	return m, nil
}

func parseManifest(b []byte) (*Manifest, error) {
	var m Manifest
	if err := json.Unmarshal(b, &m); err != nil {
		return nil, err
	}
	if m.PlanSHA256 == "" {
		return nil, errors.New("no plan_sha256")
	}
	return &m, nil
}

// HashPlan returns the SHA-256 of plan as JSON, in hexadecimal. A manifest names its plan by it.
func HashPlan(plan any) (string, error) {
	b, err := encode(plan)
	if err != nil {
		return "", fmt.Errorf("plan: %w", err)
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:]), nil
}

// HashInput reads the file at path and returns its entry for a manifest. name is the file's name in
// the plan.
func HashInput(path, name string) (Input, error) {
	f, err := os.Open(path)
	if err != nil {
		return Input{}, err
	}
	defer f.Close()
	sum := sha256.New()
	n, err := io.Copy(sum, f)
	if err != nil {
		return Input{}, fmt.Errorf("%s: %w", path, err)
	}
	return Input{Name: name, Bytes: n, SHA256: hex.EncodeToString(sum.Sum(nil))}, nil
}

// encode returns v as JSON for people, ending in a line end. Equal values give equal bytes, since
// maps are sorted by key.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(v)
	return b.Bytes(), err
}

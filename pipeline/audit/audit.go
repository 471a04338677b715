package audit

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"plinth/pipeline/output"
)

// A Verdict is the result of a rule.
type Verdict uint8

// The verdicts.
const (
	Pass    Verdict = iota
	Fail            // the folder must not be relied on
	Skipped         // there is nothing to check by this rule
)

// String returns the verdict in a word.
func (v Verdict) String() string { return [...]string{"pass", "fail", "skipped"}[v] }

// A Finding is the verdict of one rule, with what the rule looked at or what is wrong.
type Finding struct {
	Rule    string  `json:"rule"`
	Doc     string  `json:"meaning"`
	Verdict Verdict `json:"-"`
	Word    string  `json:"verdict"`
	Detail  string  `json:"detail"`
}

// A rule checks one thing and notes what it finds in n.
type rule struct {
	name, doc string
	check     func(r *run, n *notes) error
}

var rules = []rule{
	{"plan-hash", "the plan in the manifest is the plan it names", planHash},
	{"files-whole", "every file of the manifest is there, byte for byte, and nothing was left aside",
		filesWhole},
	{"parts-same-run", "programme, confirmation and inspections in the folder are of the plan and the inputs " +
		"of the run", partsSameRun},
	{"counts-balance", "rows in are buildings out plus rejected, in the manifest and in the files",
		countsBalance},
	{"ids-unique", "no building, and no pair of building and measure, stands twice", idsUnique},
	{"ids-joined", "every candidate and verdict is of a building of the run", idsJoined},
	{"ranks-dense", "ranks run 1, 2, 3, ... in the order of the rows, and places as they stand once each",
		ranksDense},
	{"scores-ordered", "no row scores above the row before it, and tie groups follow the ranks", scoresOrdered},
	{"numbers-bounded", "numbers are finite and possible", numbersBounded},
	{"sums-redone", "net benefit and ratio follow from benefit and cost, and costs from low to high",
		sumsRedone},
	{"best-among-candidates", "the best measure of a building is its first candidate that costs no lives, with " +
		"the same numbers", bestAmongCandidates},
	{"currency-one", "all money is in the currency of the manifest", currencyOne},
	{"places-right", "longitude and latitude are possible and in this order", placesRight},
	{"geoparquet", "the geo metadata, geometry and boxes are those of the rows", geoParquet},
	{"parquet-footers", "columns of Parquet have no ids or each its own, and rows are sorted as the footer says",
		parquetFooters},
	{"parquet-equals-csv", "Parquet and CSV hold the same rows, value by value", parquetEqualsCSV},
	{"areas-add-up", "every area holds the buildings that name it and their loss, and none is lost", areasAddUp},
	{"maps-equal-rows", "GeoPackage and GeoJSON hold the same buildings at the same places", mapsEqualRows},
	{"tiles-equal-rows", "vector tiles show buildings of the run at their places, the last zoom all but those " +
		"its description leaves out", tilesEqualRows},
	{"cautions-present", "every file that can carries the caution", cautionsPresent},
	{"pages-alone", "no page asks anything of a network", pagesAlone},
}

// A run is the folder under audit.
type run struct {
	ctx      context.Context
	dir      string
	manifest *output.Manifest
}

// Dir checks the run in folder dir by every rule. The error says that there is no run to check.
// Damage to its files is a finding, not an error.
func Dir(ctx context.Context, dir string) ([]Finding, error) {
	m, err := output.ReadManifest(dir)
	if err != nil {
		return nil, fmt.Errorf("audit: no finished run: %w; give the output folder of a run, which holds its %s",
			err, output.ManifestName)
	}
	r := &run{ctx, dir, m}
	out := make([]Finding, len(rules))
	for i, rule := range rules {
		if out[i] = r.apply(rule); ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
	}
	return out, nil
}

// Failed reports whether any finding is a failure.
func Failed(fs []Finding) bool {
	for i := range fs {
		if fs[i].Verdict == Fail {
			return true
		}
	}
	return false
}

// apply checks one rule. A file that cannot be read fails the rule, even if a library panics on it.
func (r *run) apply(rule rule) (f Finding) {
	f = Finding{Rule: rule.name, Doc: rule.doc}
	n := &notes{}
	defer func() {
		if p := recover(); p != nil {
			n.wrong("a file cannot be read: %v", p)
		}
		f.Verdict, f.Detail = n.verdict(), n.detail()
		f.Word = f.Verdict.String()
	}()
	if err := rule.check(r, n); err != nil {
		n.wrong("%v", err)
	}
	return f
}

// notes collect what a rule finds.
type notes struct {
	looked []string // what was looked at, in words
	faults int
	first  []string // the first faults
}

// maxFaults is the number of faults that a finding names.
const maxFaults = 3

// saw notes what was looked at. A rule that saw nothing is skipped.
func (n *notes) saw(format string, args ...any) {
	n.looked = append(n.looked, fmt.Sprintf(format, args...))
}

func (n *notes) wrong(format string, args ...any) {
	n.faults++
	if len(n.first) < maxFaults {
		n.first = append(n.first, fmt.Sprintf(format, args...))
	}
}

func (n *notes) verdict() Verdict {
	switch {
	case n.faults > 0:
		return Fail
	case len(n.looked) == 0:
		return Skipped
	}
	return Pass
}

func (n *notes) detail() string {
	switch n.verdict() {
	case Skipped:
		return "no such file in this run"
	case Pass:
		return strings.Join(n.looked, ", ")
	}
	s := strings.Join(n.first, "; ")
	if more := n.faults - len(n.first); more > 0 {
		s += fmt.Sprintf("; and %d more", more)
	}
	return s
}

// path returns the path of a file of the run.
func (r *run) path(name string) string { return filepath.Join(r.dir, name) }

// has reports whether the run has written the file.
func (r *run) has(name string) bool {
	for i := range r.manifest.Files {
		if r.manifest.Files[i].Name == name {
			return true
		}
	}
	return false
}

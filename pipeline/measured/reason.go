package measured

import (
	"fmt"
	"io/fs"
)

// The uses of a row of reasons.csv: what is said of the value it names.
const (
	whyOff    = "off"    // why the prediction lies outside its aim
	whyApart  = "apart"  // why it does not count although the value was read
	whyUnused = "unused" // why nothing is predicted beside it
)

// A key names one value of the folder: the file without its ending, the row's id, and
// in measured.csv the quantity and the level. The file timed is measured.csv by time
// histories, the file damage the survey as a whole.
type key struct{ file, id, quantity, level string }

// reasons are the sentences of reasons.csv.
type reasons map[key]struct{ use, why string }

func readReasons(fsys fs.FS) (reasons, error) {
	rows, err := readRows(fsys, "reasons.csv", []string{"file", "id", "quantity", "level", "use", "why"}, nil)
	if err != nil {
		return nil, err
	}
	out := reasons{}
	for i := range rows {
		r := &rows[i]
		k := key{r.text("file"), r.text("id"), r.text("quantity"), r.text("level")}
		use := r.text("use")
		if use != whyOff && use != whyApart && use != whyUnused {
			return nil, fmt.Errorf("reasons.csv:%d: use %q is not one of off, apart, unused", r.line, use)
		}
		if _, twice := out[k]; twice {
			return nil, fmt.Errorf("reasons.csv:%d: %v is named twice", r.line, k)
		}
		out[k] = struct{ use, why string }{use, r.text("why")}
	}
	return out, nil
}

// of returns the sentence of a value for one use, empty where there is none. A sentence
// for the whole row serves a value that has none of its own.
func (r reasons) of(k key, use string) string {
	for _, k := range []key{k, {k.file, k.id, k.quantity, ""}, {k.file, k.id, "", ""}} {
		if s, ok := r[k]; ok && s.use == use {
			return s.why
		}
	}
	return ""
}

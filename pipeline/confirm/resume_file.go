package confirm

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/gob"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
)

// resumeName is the file in the output folder with the results of an unfinished confirmation.
// It is removed once the confirmation is complete.
const resumeName = "confirm-unfinished"

// A resumeFile has one line for each finished building: a hash and an entry in base64, which
// the hash is of. Lines that are torn, damaged or of another run are ignored; their buildings
// are computed again.
type resumeFile struct {
	path, key string
	plan      string // the plan file
	mode      fs.FileMode
	mu        sync.Mutex
	done      map[string]resumeEntry
}

// A resumeEntry is the result of one building. Key is the hash of all that decides it.
type resumeEntry struct {
	Key, ID string
	Rows    []output.Confirmed
	Best    float64
}

// openResumeFile reads what an earlier run with the same key left at path.
func openResumeFile(path, key string, mode fs.FileMode) *resumeFile {
	k := &resumeFile{path: path, key: key, mode: mode, done: map[string]resumeEntry{}}
	text, _ := os.ReadFile(path) // no file holds no results
	for line := range strings.Lines(string(text)) {
		if e, ok := readEntry(strings.TrimSuffix(line, "\n")); ok && e.Key == key {
			k.done[e.ID] = e
		}
	}
	return k
}

// resumeBegin matches the beginning of a resume file, torn or not.
var resumeBegin = regexp.MustCompile(`^\n[0-9a-f]{0,64}(\n| |$)`)

// isResumeFile reports whether the file at path is a resume file.
func isResumeFile(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 66) // the line end, the hash and what parts it from the entry
	n, _ := io.ReadFull(f, head)
	return n == 0 || resumeBegin.Match(head[:n])
}

// line returns the entry as a line of the file, without its end.
func (e *resumeEntry) line() (string, error) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(e)
	text := base64.StdEncoding.EncodeToString(b.Bytes())
	return entryHash(text) + " " + text, err
}

func entryHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// readEntry reads one line; ok is false for one that is not whole.
func readEntry(line string) (e resumeEntry, ok bool) {
	hash, text, _ := strings.Cut(line, " ")
	if hash != entryHash(text) {
		return resumeEntry{}, false
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return resumeEntry{}, false
	}
	return e, gob.NewDecoder(bytes.NewReader(data)).Decode(&e) == nil
}

// get returns the result of a building that is done.
func (k *resumeFile) get(id string) (result, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	e, ok := k.done[id]
	return result{rows: e.Rows, best: e.Best}, ok
}

// put adds the result of a building. If it cannot be written it is computed again next time.
func (k *resumeFile) put(id string, c result) {
	e := resumeEntry{k.key, id, c.rows, c.best}
	line, err := e.line()
	if err != nil {
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	f, err := os.OpenFile(k.path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, k.mode)
	if err != nil {
		return
	}
	defer f.Close()
	if _, err := fmt.Fprintf(f, "\n%s\n", line); err == nil { // a line of its own after a torn one
		k.done[id] = e
	}
}

// ended returns err, as an *assess.UnfinishedError if a building is done.
func (k *resumeFile) ended(err error) error {
	if err == nil || len(k.done) == 0 {
		return err
	}
	return assess.Unfinished(int64(len(k.done)), "buildings", "confirm", k.plan, err)
}

// drop removes the file.
func (k *resumeFile) drop() { os.Remove(k.path) }

// resumeKey returns the hash of all that decides the results of a confirmation: program, plan
// and inputs.
func resumeKey(study *assess.Study, s assess.Settings, plan string) (string, error) {
	in, err := study.Inputs(study.Plan().Confirm.RecordFiles...)
	if err != nil {
		return "", err
	}
	h := sha256.New()
	fmt.Fprintln(h, s.Version, plan)
	for _, i := range in {
		fmt.Fprintln(h, i.SHA256)
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

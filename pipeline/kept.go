package pipeline

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

// keptName is the file in the output folder that holds the buildings an unfinished
// confirmation is done with. It is gone once the confirmation is complete.
const keptName = "confirm-unfinished"

// A keep is that file: a line a building, the hash of what follows and an entry in
// base64. Lines that are torn, damaged or of another run are passed over, and their
// buildings computed again.
type keep struct {
	path, key string
	plan      string // the plan file
	mode      fs.FileMode
	mu        sync.Mutex
	done      map[string]kept
}

// A kept is what a line holds. Key is the hash of all that decides a result.
type kept struct {
	Key, ID string
	Rows    []output.Confirmed
	Best    float64
}

// openKeep reads what an earlier run with the same key left at path.
func openKeep(path, key string, mode fs.FileMode) *keep {
	k := &keep{path: path, key: key, mode: mode, done: map[string]kept{}}
	text, _ := os.ReadFile(path) // none is none kept
	for line := range strings.Lines(string(text)) {
		if e, ok := readKept(strings.TrimSuffix(line, "\n")); ok && e.Key == key {
			k.done[e.ID] = e
		}
	}
	return k
}

// keptBegin is how a file of kept buildings begins, torn or not.
var keptBegin = regexp.MustCompile(`^\n[0-9a-f]{0,64}(\n| |$)`)

// isKept reports whether the file at path is one that a confirmation has kept.
func isKept(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 66) // the line end, the hash and what parts it from the entry
	n, _ := io.ReadFull(f, head)
	return n == 0 || keptBegin.Match(head[:n])
}

// line returns the entry as a line of the file, without its end.
func (e *kept) line() (string, error) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(e)
	text := base64.StdEncoding.EncodeToString(b.Bytes())
	return keptHash(text) + " " + text, err
}

func keptHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// readKept reads one line; ok is false for one that is not whole.
func readKept(line string) (e kept, ok bool) {
	hash, text, _ := strings.Cut(line, " ")
	if hash != keptHash(text) {
		return kept{}, false
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return kept{}, false
	}
	return e, gob.NewDecoder(bytes.NewReader(data)).Decode(&e) == nil
}

// get returns the result of a building that is done.
func (k *keep) get(id string) (confirmed, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	e, ok := k.done[id]
	return confirmed{rows: e.Rows, best: e.Best}, ok
}

// put adds a building. What cannot be kept is computed again next time.
func (k *keep) put(id string, c confirmed) {
	e := kept{k.key, id, c.rows, c.best}
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

// ended returns err, as an *UnfinishedError if there is something to go on with.
func (k *keep) ended(err error) error {
	if err == nil || len(k.done) == 0 {
		return err
	}
	return assess.Unfinished(int64(len(k.done)), "buildings", "confirm", k.plan, err)
}

// drop removes the file.
func (k *keep) drop() { os.Remove(k.path) }

// confirmKey returns the hash of what decides the results of a confirmation: program,
// plan and the bytes of every input.
func confirmKey(study *assess.Study, s assess.Settings, plan string) (string, error) {
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

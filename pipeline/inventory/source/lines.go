package source

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
)

// longestFeature is the most bytes the line of a feature may have.
const longestFeature = 16 << 20

// featureLines gives the features of a file of one feature a line, with or
// without the record separators of RFC 8142. A line that cannot be read is one
// bad feature.
type featureLines struct {
	*Frame
	in   *bufio.Reader
	line []byte
	end  error
}

func (l *featureLines) next(f *feature) error {
	for l.end == nil {
		long := l.readLine()
		line := bytes.TrimSpace(bytes.TrimPrefix(l.line, []byte{0x1e}))
		switch {
		case long:
			*f = feature{bad: "a line of more than 16 MB"}
			return nil
		case len(line) == 0:
			continue
		}
		d := json.NewDecoder(bytes.NewReader(line))
		switch err := f.decode(d); {
		case err != nil:
			*f = feature{bad: "the line is not JSON"}
		case f.bad == "" && f.Type != "Feature":
			*f = feature{bad: "the line is not a feature"}
		case behind(d):
			*f = feature{bad: "more than one feature on the line"}
		}
		return nil
	}
	return l.Broken(l.end)
}

// readLine reads the next line into l.line. It reads past one that is too long
// without keeping it.
func (l *featureLines) readLine() (long bool) {
	l.line = l.line[:0]
	for {
		part, err := l.in.ReadSlice('\n')
		if long = long || len(l.line)+len(part) > longestFeature; !long {
			l.line = append(l.line, part...)
		}
		if err == bufio.ErrBufferFull {
			continue
		}
		l.end = err
		return long
	}
}

// behind reports whether anything but white space follows.
func behind(d *json.Decoder) bool {
	_, err := d.Token()
	return err != io.EOF
}

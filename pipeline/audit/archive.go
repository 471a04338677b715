package audit

import (
	"compress/gzip"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"strings"
)

// archiveSays reports whether the metadata of a PMTiles file (version 3) holds text. It believes no
// length: it reads a megabyte at most.
func archiveSays(path, text string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	head := make([]byte, 127)
	if _, err := io.ReadFull(f, head); err != nil {
		return false, err
	}
	if string(head[:8]) != "PMTiles\x03" || head[97] != 2 {
		return false, errors.New("no PMTiles of version 3 with gzip inside")
	}
	at, n := binary.LittleEndian.Uint64(head[24:]), binary.LittleEndian.Uint64(head[32:])
	if at > 1<<40 {
		return false, errors.New("the metadata lies beyond any file")
	}
	said, err := gzip.NewReader(io.NewSectionReader(f, int64(at), int64(min(n, 1<<20))))
	if err != nil {
		return false, err
	}
	b, err := io.ReadAll(io.LimitReader(said, 1<<20))
	return strings.Contains(string(b), text), err
}

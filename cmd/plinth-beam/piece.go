package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
)

// A piece is a written file: one range of a table in one format.
type piece struct {
	Table int
	File  output.Written
}

// A pieceWriter writes one range of a table.
type pieceWriter struct {
	job  *job
	run  *assess.Study
	part int
	rows func(see func(row []byte) error) error // in order; a record may hold several rows
	emit func(piece)
}

// writePiece sorts the rows of a range and writes them. note enters the place of each row before it
// is written.
func writePiece[R any](w *pieceWriter, t *output.Table[R], decode output.Decoder[R], formats []string, note func(*R)) error {
	var files []*pieceFile[R]
	for _, format := range formats {
		name := fmt.Sprintf("%s-%05d-of-%05d.%s", t.Name, w.part%w.job.Ranges, w.job.Ranges, format)
		f, err := openPiece(w.job, w.run, t, name, format)
		if err != nil {
			return err
		}
		defer f.abort()
		files = append(files, f)
	}
	err := w.rows(func(b []byte) error {
		return decode(b, func(r *R) error {
			note(r)
			for _, f := range files {
				if err := f.rows.Write(r); err != nil {
					return err
				}
				f.Rows++
			}
			return nil
		})
	})
	if err != nil {
		return err
	}
	for _, f := range files {
		if err := f.commit(); err != nil {
			return err
		}
		w.emit(piece{w.part / w.job.Ranges, f.Written})
	}
	return nil
}

// A pieceFile is written under a temporary name and renamed when it is whole. A runner may write one
// range twice at the same time; both files then have the same bytes.
type pieceFile[R any] struct {
	output.Written
	path string
	mode fs.FileMode
	f    *os.File
	sum  interface {
		io.Writer
		Sum([]byte) []byte
	}
	rows interface {
		Write(*R) error
		Close() error
	}
}

// mode returns the mode of result files. Others may read them unless the plan is private.
func mode(run *assess.Study) fs.FileMode { return run.Plan().Output.FileMode() &^ 0o022 }

func openPiece[R any](j *job, run *assess.Study, t *output.Table[R], name, format string) (*pieceFile[R], error) {
	p := &pieceFile[R]{sum: sha256.New(), path: filepath.Join(j.Folder, name), mode: mode(run)}
	p.Name = name
	var err error
	if p.f, err = os.CreateTemp(j.Folder, name+".tmp-*"); err != nil {
		return nil, err
	}
	if format == output.FormatCSV {
		p.rows = output.NewCSV(p, t)
		return p, nil
	}
	p.rows, err = output.NewParquet(p, t, run.About(j.Version))
	return p, err
}

// Write writes b and adds it to the hash of the file.
func (p *pieceFile[R]) Write(b []byte) (int, error) {
	n, err := p.f.Write(b)
	p.sum.Write(b[:n])
	p.Bytes += int64(n)
	return n, err
}

func (p *pieceFile[R]) commit() error {
	if err := p.rows.Close(); err != nil {
		return err
	}
	p.SHA256 = hex.EncodeToString(p.sum.Sum(nil))
	if err := errors.Join(p.f.Chmod(p.mode), p.f.Sync(), p.f.Close()); err != nil {
		return err
	}
	return os.Rename(p.f.Name(), p.path)
}

// abort removes a file that was not committed.
func (p *pieceFile[R]) abort() {
	p.f.Close()
	os.Remove(p.f.Name())
}

package source

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

func (s *packageSource) Pick(at []int) {
	for _, i := range at {
		s.names = append(s.names, s.Header[i])
	}
}

// statement returns the query of some columns in the order of the table's keys.
// The plus keeps a value as the file has it: without, the driver makes times of
// columns declared as dates.
func (s *packageSource) statement(names []string) string {
	var b strings.Builder
	b.WriteString("SELECT ")
	for i, n := range names {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString("+" + quoted(n))
	}
	return b.String() + " FROM " + quoted(s.table) + " ORDER BY rowid"
}

// quoted returns a name as SQL takes any name.
func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// Next appends up to n rows.
func (s *packageSource) Next(to *Rows, n int) (err error) {
	if s.rows == nil {
		names := s.names
		if s.Drawn {
			names = append(names[:len(names):len(names)], s.shape)
		}
		if s.rows, err = s.db.QueryContext(s.ctx, s.statement(names)); err != nil {
			return s.damaged("the table cannot be read", err)
		}
	}
	values := make([]any, len(s.names)+1)
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	if !s.Drawn {
		into = into[:len(s.names)]
	}
	for end := to.N + n; to.N < end; {
		if !s.rows.Next() {
			if err := s.rows.Err(); err != nil {
				return s.damaged(fmt.Sprintf("the table cannot be read behind row %d", s.last), err)
			}
			return io.EOF
		}
		if err := s.rows.Scan(into...); err != nil {
			return s.damaged(fmt.Sprintf("row %d cannot be read", s.last+1), err)
		}
		s.add(to, values)
	}
	return nil
}

// add appends one row, the last of whose values is the geometry.
func (s *packageSource) add(to *Rows, values []any) {
	s.last++
	to.N++
	var shape orb.Geometry
	var err error
	if blob := values[len(values)-1]; s.Drawn && blob != nil {
		b, _ := blob.([]byte)
		if shape, err = s.geometry(b); err != nil {
			to.Bad = append(to.Bad, Bad{Line: s.last, Fault: BadFeature, Detail: err.Error()})
			return
		}
	}
	to.Lines = append(to.Lines, s.last)
	if s.Drawn {
		to.Shapes = append(to.Shapes, shape)
	}
	for i := range s.names {
		to.Cells = append(to.Cells, sqlCell(values[i]))
	}
}

// sqlCell returns a value as the text a cell would have.
func sqlCell(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case []byte:
		return string(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return decimal(v, 64)
	}
	return fmt.Sprint(v)
}

// decimal returns the shortest decimal number that gives x.
func decimal(x float64, bits int) string { return strconv.FormatFloat(x, 'f', -1, bits) }

// Flags of the header of a geometry (OGC 12-128r19 clause 2.1.3.1.1).
const (
	gpLittleEndian = 1 << 0
	gpEnvelope     = 7 << 1
	gpEmpty        = 1 << 4
	gpExtended     = 1 << 5
)

// gpEnvelopes are the bytes of an envelope by its kind.
var gpEnvelopes = [...]int{0, 32, 48, 48, 64}

// geometry reads a geometry of a GeoPackage: two letters, version, flags, srs_id,
// envelope, then well-known binary.
func (s *packageSource) geometry(b []byte) (orb.Geometry, error) {
	if len(b) < 8 || string(b[:2]) != "GP" {
		return nil, errors.New("a geometry that is not one of a GeoPackage")
	}
	flags := b[3]
	var order binary.ByteOrder = binary.BigEndian
	if flags&gpLittleEndian != 0 {
		order = binary.LittleEndian
	}
	kind := int(flags&gpEnvelope) >> 1
	switch srs := int(int32(order.Uint32(b[4:]))); {
	case srs != s.srs:
		return nil, fmt.Errorf("a geometry with srs_id %d in a table of %d", srs, s.srs)
	case flags&gpExtended != 0 || kind >= len(gpEnvelopes):
		return nil, errors.New("a geometry of an extended kind")
	case len(b) < 8+gpEnvelopes[kind]:
		return nil, errShortWKB
	case flags&gpEmpty != 0:
		return nil, nil
	}
	return parseWKB(b[8+gpEnvelopes[kind]:])
}

func (s *packageSource) Samples(at int) []string {
	rows, err := s.db.QueryContext(s.ctx,
		"SELECT +"+quoted(s.Header[at])+" FROM "+quoted(s.table)+" ORDER BY rowid LIMIT 50")
	if err != nil {
		return nil
	}
	defer rows.Close()
	var out []string
	for len(out) < 3 && rows.Next() {
		var v any
		if rows.Scan(&v) != nil {
			break
		}
		out = sample(out, sqlCell(v))
	}
	return out
}

// Close closes the database.
func (s *packageSource) Close() error {
	var errs []error
	if s.rows != nil {
		errs = append(errs, s.rows.Close())
	}
	if s.db != nil {
		errs = append(errs, s.db.Close())
	}
	return errors.Join(errs...)
}

package output

import (
	"database/sql"
	"net/url"
	"path/filepath"

	_ "modernc.org/sqlite" // driver "sqlite"
)

// openDatabase opens the empty file at path as an SQLite database. The file is written once and
// renamed when it is whole, so it needs no journal.
func openDatabase(path string) (*sql.DB, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	name := url.URL{Scheme: "file", Path: filepath.ToSlash(path),
		RawQuery: "_pragma=journal_mode(off)&_pragma=synchronous(off)&_pragma=page_size(4096)"}
	db, err := sql.Open("sqlite", name.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return db, nil
}

// stored returns the value of row in the column as the database stores it.
func (c *Column[R]) stored(row *R) any {
	switch {
	case c.missing(row):
		return nil
	case c.Float != nil:
		return c.float(row)
	case c.Text != nil:
		return cleanText(*c.Text(row))
	case c.Int != nil:
		return *c.Int(row)
	default:
		return int64(boolByte(*c.Bool(row)))
	}
}

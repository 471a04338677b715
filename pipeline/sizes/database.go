package sizes

import (
	"context"
	"database/sql"
	"errors"
	"net/url"
	"path/filepath"

	"modernc.org/sqlite"
)

// longestValue is the largest number of bytes of a value or a statement in a database, far above
// what a building takes (judgement).
const longestValue = 64 << 20

// limitLength is SQLITE_LIMIT_LENGTH of the C interface.
const limitLength = 0

// OpenDatabase opens the SQLite file at path for reading over one connection. It makes no lock and
// no journal beside the file, runs nothing that the file defines, and allocates no value that is
// longer than longestValue.
func OpenDatabase(path string) (*sql.DB, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	from := url.URL{Scheme: "file", Path: filepath.ToSlash(path),
		RawQuery: "mode=ro&immutable=1&_pragma=query_only(1)&_pragma=trusted_schema(0)&_pragma=cell_size_check(1)"}
	db, err := sql.Open("sqlite", from.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	conn, err := db.Conn(context.Background())
	if err == nil {
		_, err = sqlite.Limit(conn, limitLength, longestValue)
		err = errors.Join(err, conn.Close())
	}
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

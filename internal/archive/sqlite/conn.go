package sqlite

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"net/url"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// Pragmas of every connection. A full sync at every commit is what makes an
// acknowledged write outlive a power cut; the two with fullfsync do the same
// where a plain sync stops at the disk's cache. Nothing in a file's own schema
// is trusted to run functions, and cells are checked before they are read.
var pragmas = []string{
	"busy_timeout(5000)", "foreign_keys(1)", "synchronous(FULL)", "fullfsync(1)", "checkpoint_fullfsync(1)",
	"cell_size_check(1)", "trusted_schema(0)", "temp_store(MEMORY)",
}

// Cache sizes in KiB.
const (
	writerCache = "cache_size(-16384)"
	readerCache = "cache_size(-8192)"
)

// address returns how the driver is told to open a file. The mode may bring
// further parameters along.
func address(file, mode string, more ...string) string {
	query := url.Values{"_pragma": append(append([]string{}, pragmas...), more...)}
	path := (&url.URL{Path: filepath.ToSlash(file)}).EscapedPath()
	if filepath.VolumeName(file) != "" && !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	return "file:" + path + "?mode=" + mode + "&" + query.Encode()
}

// conn is one connection with the statements it has prepared. One goroutine
// uses it at a time.
type conn struct {
	file     string
	db       *sql.DB
	c        *sql.Conn
	prepared map[string]*sql.Stmt
}

// dial opens a connection. The driver opens the file at once.
func dial(file, mode string, more ...string) (*conn, error) {
	db, err := sql.Open("sqlite", address(file, mode, more...))
	if err != nil {
		return nil, fault(file, "open", err)
	}
	db.SetMaxOpenConns(1)
	c, err := db.Conn(context.Background())
	if err != nil {
		db.Close()
		return nil, fault(file, "open", err)
	}
	return &conn{file: file, db: db, c: c, prepared: map[string]*sql.Stmt{}}, nil
}

func (c *conn) close() error {
	for _, s := range c.prepared {
		s.Close()
	}
	return errors.Join(c.c.Close(), c.db.Close())
}

// lost reports whether the driver has given up the connection.
func lost(err error) bool {
	return errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone)
}

func (c *conn) stmt(query string) (*sql.Stmt, error) {
	if s := c.prepared[query]; s != nil {
		return s, nil
	}
	s, err := c.c.PrepareContext(context.Background(), query)
	if err != nil {
		return nil, err
	}
	c.prepared[query] = s
	return s, nil
}

// caller runs prepared statements: those of an update are never cut short,
// since that would undo what others wait for; those of a view end with its
// context.
type caller struct {
	*conn
	ctx context.Context
}

// exec runs a statement that returns nothing.
func (c caller) exec(query string, args ...any) error {
	s, err := c.stmt(query)
	if err == nil {
		_, err = s.ExecContext(c.ctx, args...)
	}
	return fault(c.file, "write", err)
}

// each calls f for every row of a query.
func (c caller) each(query string, f func(*sql.Rows) error, args ...any) error {
	s, err := c.stmt(query)
	if err != nil {
		return fault(c.file, "read", err)
	}
	rows, err := s.QueryContext(c.ctx, args...)
	if err != nil {
		return fault(c.file, "read", err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows); err != nil {
			return fault(c.file, "read", err)
		}
	}
	return fault(c.file, "read", rows.Err())
}

// number returns the one whole number that a query returns, 0 where there is none.
func (c caller) number(query string, args ...any) (n int64, err error) {
	err = c.each(query, func(rows *sql.Rows) error { return rows.Scan(&n) }, args...)
	return n, err
}

package sqlite

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"undersod/internal/archive"
)

//go:embed schema/*.sql
var schemas embed.FS

// application marks the file as an archive of this program: "USOD" in ASCII,
// where SQLite keeps a number for it (https://www.sqlite.org/fileformat2.html,
// section 1.3.15).
const application = 0x55534F44

// Schema returns the number of the newest schema that this program knows. A
// file schema/NNNN.sql brings a database from the schema before to its own, and
// is never changed once it was released.
func Schema() int64 {
	files, err := fs.Glob(schemas, "schema/*.sql")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	return int64(len(files))
}

// errNewer means that a newer program wrote the database.
var errNewer = errors.New("a newer undersod has written this archive; open it with that one or a newer one")

// schemaOf returns the schema of a database, 0 of an empty one.
func schemaOf(c caller) (int64, error) {
	version, err := c.number("PRAGMA user_version")
	if err != nil {
		return 0, err
	}
	mark, err := c.number("PRAGMA application_id")
	if err != nil {
		return 0, err
	}
	tables, err := c.number("SELECT count(*) FROM sqlite_schema")
	if err != nil {
		return 0, err
	}
	name := filepath.Base(c.file)
	switch {
	case tables == 0 && mark == 0 && version == 0:
		return 0, nil
	case mark != application:
		return 0, archive.Told(archive.ErrDamaged, "%s: it is a database, but not an archive of undersod", name)
	case version > Schema():
		return 0, fmt.Errorf("%s: it has schema %d, this program knows schemas up to %d: %w", name, version, Schema(), errNewer)
	}
	return version, nil
}

// migrate brings a database to the newest schema, whole or not at all.
func migrate(ctx context.Context, c *conn) error {
	w := caller{c, context.WithoutCancel(ctx)}
	version, err := schemaOf(w)
	if err != nil || version == Schema() {
		return err
	}
	if err := w.exec("BEGIN IMMEDIATE"); err != nil {
		return err
	}
	for version < Schema() && err == nil {
		version++
		err = upgrade(w, version)
	}
	if err == nil {
		err = w.exec("COMMIT")
	}
	if err != nil {
		w.exec("ROLLBACK")
		return fmt.Errorf("bring the archive to schema %d: %w", version, err)
	}
	return nil
}

func upgrade(w caller, to int64) error {
	script, err := schemas.ReadFile(fmt.Sprintf("schema/%04d.sql", to))
	if err != nil {
		return err
	}
	for _, s := range []string{string(script), fmt.Sprintf("PRAGMA application_id = %d", application), fmt.Sprintf("PRAGMA user_version = %d", to)} {
		if _, err := w.c.ExecContext(w.ctx, s); err != nil {
			return fault(w.file, "write", err)
		}
	}
	return nil
}

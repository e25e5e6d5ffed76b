package sqlite

import (
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"slices"
	"strings"

	"undersod/internal/archive"
)

// table is how a kind of thing is stored: a row of columns and their sum.
type table[T any] struct {
	name    string
	fields  func(*T) []field
	columns string // with the sum
	insert  string // refuses a second row of the same key
	upsert  string // puts another in its place
}

// newTable makes the statements of a table whose columns are named in the order
// of its fields, the key among them.
func newTable[T any](name, key string, columns []string, fields func(*T) []field) table[T] {
	all := append(slices.Clone(columns), "sum")
	insert := fmt.Sprintf("INSERT INTO %s (%s) VALUES (?%s)", name, strings.Join(all, ", "), strings.Repeat(", ?", len(columns)))
	var set []string
	for _, c := range all {
		if c != key {
			set = append(set, c+" = excluded."+c)
		}
	}
	return table[T]{
		name: name, fields: fields, columns: "SELECT " + strings.Join(all, ", ") + " FROM " + name + " ",
		insert: insert,
		upsert: insert + " ON CONFLICT (" + key + ") DO UPDATE SET " + strings.Join(set, ", "),
	}
}

// row returns the values to store of a thing.
func (t table[T]) row(v *T) []any {
	fields := t.fields(v)
	out := make([]any, 0, len(fields)+1)
	for _, f := range fields {
		value, _ := f.Value() // columns never fail
		out = append(out, value)
	}
	return append(out, sum(out))
}

// scan reads a row and holds it against its sum.
func (t table[T]) scan(rows *sql.Rows, v *T) error {
	fields := t.fields(v)
	into := make([]any, 0, len(fields)+1)
	read := make([]any, len(fields))
	for i, f := range fields {
		into = append(into, kept{f, &read[i]})
	}
	var stored int64
	if err := rows.Scan(append(into, &stored)...); err != nil {
		if errors.Is(err, archive.ErrDamaged) {
			return fmt.Errorf("a row of %s: %w", t.name, err)
		}
		return err
	}
	if sum(read) != stored {
		return archive.Told(archive.ErrDamaged, "a row of %s does not match its checksum", t.name)
	}
	return nil
}

// kept hands what was read to a field and keeps it for the sum.
type kept struct {
	field
	read *any
}

func (k kept) Scan(v any) error {
	*k.read = v
	return k.field.Scan(v)
}

// all reads every row that a query returns.
func (t table[T]) all(c caller, where string, args ...any) ([]T, error) {
	var out []T
	err := c.each(t.columns+where, func(rows *sql.Rows) error {
		var v T
		if err := t.scan(rows, &v); err != nil {
			return err
		}
		out = append(out, v)
		return nil
	}, args...)
	return out, err
}

// one reads the one row that a query returns.
func (t table[T]) one(c caller, where string, args ...any) (T, error) {
	all, err := t.all(c, where, args...)
	if err == nil && len(all) == 0 {
		err = archive.ErrNotFound
	}
	if err != nil {
		var none T
		return none, err
	}
	return all[0], nil
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sum returns the CRC-32C of the values of a row, each with its kind and its
// length, so that no two rows have the same bytes.
func sum(values []any) int64 {
	var b []byte
	for _, v := range values {
		switch v := v.(type) {
		case nil:
			b = append(b, 'n')
		case int64:
			b = binary.BigEndian.AppendUint64(append(b, 'i'), uint64(v))
		case float64:
			b = binary.BigEndian.AppendUint64(append(b, 'f'), math.Float64bits(v))
		case string:
			b = append(binary.AppendUvarint(append(b, 's'), uint64(len(v))), v...)
		case []byte:
			b = append(binary.AppendUvarint(append(b, 'b'), uint64(len(v))), v...)
		}
	}
	return int64(crc32.Checksum(b, castagnoli))
}

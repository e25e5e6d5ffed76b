package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
)

var ctx = context.Background()

func testFile(number int64) string { return fmt.Sprintf("testdata/schema-%04d.sql", number) }

// load makes a database of SQL text.
func load(t *testing.T, script string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "archive.db")
	c, err := dial(file, "rwc")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.c.ExecContext(ctx, script); err != nil {
		t.Fatal(err)
	}
	if err := c.close(); err != nil {
		t.Fatal(err)
	}
	return file
}

func mustOpen(t *testing.T, file string) *Store {
	t.Helper()
	s, err := Open(ctx, file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// texts returns the rows of a query as text.
func texts(t *testing.T, s *Store, query string) (out []string) {
	t.Helper()
	err := s.read(ctx, func(c caller) error {
		return c.each(query, func(rows *sql.Rows) error {
			var v string
			err := rows.Scan(&v)
			out = append(out, v)
			return err
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestEveryReleasedSchemaMigrates opens a small database of each schema that
// was ever released: it is whole, all that was in it is found, and its schema is
// that of a new one. A new schema brings its own file along; write it with
//
//	UNDERSOD_WRITE_SCHEMA=1 go test ./internal/archive/sqlite -run EveryReleasedSchema
//
// and never write one of a released schema again.
func TestEveryReleasedSchemaMigrates(t *testing.T) {
	const layout = "SELECT coalesce(sql, name) FROM sqlite_schema ORDER BY type, name"
	if os.Getenv("UNDERSOD_WRITE_SCHEMA") != "" {
		writeSchema(t)
	}
	fresh := texts(t, mustOpen(t, filepath.Join(t.TempDir(), "archive.db")), layout)
	for number := int64(1); number <= Schema(); number++ {
		script, err := os.ReadFile(testFile(number))
		if err != nil {
			t.Fatalf("schema %d has no small database to migrate: %v", number, err)
		}
		s := mustOpen(t, load(t, string(script)))
		if now := texts(t, s, "PRAGMA user_version"); now[0] != fmt.Sprint(Schema()) {
			t.Errorf("schema %d was brought to %s", number, now[0])
		}
		if got := texts(t, s, layout); !reflect.DeepEqual(got, fresh) {
			t.Errorf("from schema %d comes\n%s\na new one is\n%s", number, strings.Join(got, "\n"), strings.Join(fresh, "\n"))
		}
		if err := s.Check(ctx); err != nil {
			t.Errorf("schema %d: %v", number, err)
		}
		if err := s.View(ctx, func(r archive.Reader) error { return holdsSmall(t, r) }); err != nil {
			t.Errorf("schema %d: %v", number, err)
		}
		if err := s.Update(ctx, putSmall); !errors.Is(err, archive.ErrExists) {
			t.Errorf("schema %d: written again, the error is %v", number, err)
		}
	}
}

func smallSite() archive.Site {
	latitude, longitude := 44.5*unit.Degree, -93.25*unit.Degree
	made := archive.Stamp{At: time.UnixMilli(1_780_000_000_123).UTC(), By: "crew"}
	return archive.Site{ID: "site", Revision: 2, Created: made, Changed: made, Heading: archive.Heading{
		Name: "18 Quarry Hollow Lane", Address: "18 Quarry Hollow Lane", County: "Tamsin County", Owner: "A. Fernleaf", Parcel: "07-113",
		Permit: "T-1996-0412", Authority: "Tamsin Health District", Date: "2026-05-12", By: "R. Dunmoor",
		Latitude: &latitude, Longitude: &longitude, Fill: "The hole may be filled.", Mistakes: 1, Acts: 2,
		NextLook: "2027-05-12", NextWhat: "pump the tank", Words: "fine roots",
	}}
}

func smallVisit() archive.Visit {
	s := smallSite()
	return archive.Visit{ID: "visit", Site: "site", Revision: 2, Created: s.Created, Changed: s.Changed, Job: archive.HashOf([]byte("job")), Format: "yaml",
		Heading: s.Heading, Photos: []archive.Photo{{Name: "photos/box.jpg", Content: archive.HashOf([]byte("photo")), Thumbnail: archive.HashOf([]byte("small")),
			Bytes: 5, Width: 4, Height: 3, Added: s.Created}}}
}

func smallChange() archive.Change {
	return archive.Change{Number: 1, Stamp: smallSite().Created, Deed: archive.Altered, Site: "site", Visit: "visit", Revision: 2,
		Before: archive.HashOf([]byte("old job")), After: archive.HashOf([]byte("job")), Words: "1 entry changed",
		Fields: []archive.Field{{Pointer: "/owner", Before: `"A. Fern"`, After: `"A. Fernleaf"`}}}
}

// putSmall fills every table.
func putSmall(w archive.Writer) error {
	s := smallSite()
	gone := s
	gone.ID, gone.Deleted = "gone", &archive.Stamp{At: s.Created.At, By: "office"}
	later := s.Created.At.Add(time.Hour)
	_, change := w.AddChange(smallChange())
	_, event := w.AddEvent(archive.Event{Stamp: s.Created, What: "signed in", About: "dunmoor"})
	return errors.Join(w.PutSite(s), w.PutSite(gone), w.PutVisit(smallVisit()), change, event,
		w.PutAccount(archive.Account{ID: "crew", Login: "dunmoor", Name: "R. Dunmoor", Role: archive.Crew, Password: "$argon2id$", Created: s.Created, Changed: s.Changed}),
		w.PutSession(archive.Session{Token: archive.HashOf([]byte("token")), Account: "crew", Created: s.Created.At, Seen: later, Expires: later, Agent: "a browser"}),
		w.PutShare(archive.Share{ID: "share", Token: archive.HashOf([]byte("link")), Site: "site", Label: "county office", Created: s.Created, Expires: later}),
		w.PutAnswer("key", s.Created.At, []byte(`{"Site":"site"}`)))
}

func holdsSmall(t *testing.T, r archive.Reader) error {
	site, err := r.Site("site")
	if !reflect.DeepEqual(site, smallSite()) {
		t.Errorf("the site is %+v", site)
	}
	visits, err1 := r.Visits("site")
	if !reflect.DeepEqual(visits, []archive.Visit{smallVisit()}) {
		t.Errorf("the visits are %+v", visits)
	}
	changes, err2 := r.Changes("site", 0, 0)
	if !reflect.DeepEqual(changes, []archive.Change{smallChange()}) {
		t.Errorf("the changes are %+v", changes)
	}
	byWords, err3 := r.Find(archive.Query{Words: "t-1996-0412 roots"})
	deleted, err4 := r.Find(archive.Query{Words: "quarry", Deleted: true})
	near, err5 := r.Find(archive.Query{Near: &archive.Near{Latitude: 44.5 * unit.Degree, Longitude: -93.25 * unit.Degree, Within: 1 * unit.Metre}})
	if len(byWords.Sites) != 1 || len(near.Sites) != 1 || len(deleted.Sites) != 1 || deleted.Sites[0].ID != "gone" {
		t.Errorf("found %+v, %+v and %+v", byWords, near, deleted)
	}
	a, err6 := r.AccountByLogin("dunmoor")
	_, err7 := r.Session(archive.HashOf([]byte("token")))
	_, err8 := r.ShareByToken(archive.HashOf([]byte("link")))
	answer, err9 := r.Answered("key")
	events, err10 := r.Events(0, 0)
	if a.ID != "crew" || string(answer) != `{"Site":"site"}` || len(events) != 1 {
		t.Errorf("%+v, %s, %+v", a, answer, events)
	}
	return errors.Join(err, err1, err2, err3, err4, err5, err6, err7, err8, err9, err10)
}

// writeSchema writes the small database of the newest schema as SQL text: what
// makes its tables, and its rows.
func writeSchema(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	if err := s.Update(ctx, putSmall); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "-- A small database of schema %d, as released. Never changed.\n", Schema())
	for _, made := range texts(t, s, `SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL
		AND name NOT LIKE 'search\_%' ESCAPE '\' AND name NOT LIKE 'places\_%' ESCAPE '\' ORDER BY rowid`) {
		b.WriteString(made + ";\n")
	}
	for _, table := range []string{"sites", "visits", "photos", "changes", "accounts", "sessions", "shares", "events", "answers", "places"} {
		for _, row := range quoted(t, s, "SELECT * FROM "+table) {
			fmt.Fprintf(&b, "INSERT INTO %s VALUES (%s);\n", table, row)
		}
	}
	rows, err := sites.all(caller{s.writer, ctx}, "ORDER BY put")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		fmt.Fprintf(&b, "INSERT INTO search (rowid, words) VALUES (%d, '%s');\n", r.put, indexed(r.Site))
	}
	fmt.Fprintf(&b, "PRAGMA application_id = %d;\nPRAGMA user_version = %d;\n", application, Schema())
	if err := os.WriteFile(testFile(Schema()), []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// quoted returns the rows of a query as SQL writes their values.
func quoted(t *testing.T, s *Store, query string) (out []string) {
	t.Helper()
	rows, err := s.writer.c.QueryContext(ctx, query)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	columns, _ := rows.Columns()
	for rows.Next() {
		values := make([]any, len(columns))
		into := make([]any, len(columns))
		for i := range values {
			into[i] = &values[i]
		}
		if err := rows.Scan(into...); err != nil {
			t.Fatal(err)
		}
		texts := make([]string, len(values))
		for i, v := range values {
			texts[i] = literal(v)
		}
		out = append(out, strings.Join(texts, ", "))
	}
	return out
}

func literal(v any) string {
	switch v := v.(type) {
	case nil:
		return "NULL"
	case []byte:
		return fmt.Sprintf("x'%x'", v)
	case string:
		return "'" + strings.ReplaceAll(v, "'", "''") + "'"
	case float64:
		return fmt.Sprintf("%.17g", v)
	}
	return fmt.Sprint(v)
}

func TestSchemasThatAreRefused(t *testing.T) {
	script, err := os.ReadFile(testFile(1))
	if err != nil {
		t.Fatal(err)
	}
	newer := load(t, string(script)+"PRAGMA user_version = 99;")
	if _, err := Open(ctx, newer); !errors.Is(err, errNewer) || !strings.Contains(err.Error(), "schema 99") || !strings.Contains(err.Error(), "newer undersod") {
		t.Errorf("a newer schema: %v", err)
	}
	if _, err := Look(ctx, newer); !errors.Is(err, errNewer) {
		t.Errorf("a newer schema looked at: %v", err)
	}
	other := load(t, "CREATE TABLE recipes (name TEXT);")
	if _, err := Open(ctx, other); !errors.Is(err, archive.ErrDamaged) || !strings.Contains(err.Error(), "not an archive of undersod") {
		t.Errorf("a database of another program: %v", err)
	}
	if names := texts(t, lookAnyway(t, other), "SELECT name FROM sqlite_schema"); len(names) != 1 {
		t.Errorf("it was changed: %v", names)
	}
	cut := load(t, string(script)+"DROP TABLE photos; DROP TABLE visits; PRAGMA user_version = 0;")
	if _, err := Open(ctx, cut); err == nil {
		t.Error("a half made archive was opened")
	}
}

// lookAnyway reads a file whatever its schema.
func lookAnyway(t *testing.T, file string) *Store {
	s := &Store{file: file, readOnly: true, readMode: "ro"}
	s.makePlaces()
	t.Cleanup(func() { s.Close() })
	return s
}

// TestAMigrationThatFailsChangesNothing stops half way.
func TestAMigrationThatFailsChangesNothing(t *testing.T) {
	file := load(t, fmt.Sprintf("CREATE TABLE answers (key TEXT); PRAGMA application_id = %d;", application))
	if _, err := Open(ctx, file); err == nil || !strings.Contains(err.Error(), "schema 1") {
		t.Fatalf("the error is %v", err)
	}
	if names := texts(t, lookAnyway(t, file), "SELECT name FROM sqlite_schema"); len(names) != 1 || names[0] != "answers" {
		t.Errorf("half a migration stayed: %v", names)
	}
}

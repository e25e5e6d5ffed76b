package bundle

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"undersod/internal/archive"
)

// Write writes a site as a bundle; contents come from the archive by their
// hash. The same site gives the same bytes. An error of from is returned as it
// is; ErrBundle says that the site holds something that no bundle can.
func Write(ctx context.Context, w io.Writer, s Site, from Contents) error {
	z := &writer{ctx: ctx, zip: zip.NewWriter(w), from: from, there: map[string]bool{}}
	m, err := z.manifest(s)
	if err != nil {
		return err
	}
	text, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return err
	}
	if err := z.put("manifest.json", append(text, '\n'), zip.Deflate); err != nil {
		return err
	}
	for _, p := range z.plan {
		content, err := from.Get(ctx, p.hash)
		if err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
		if err := z.put(p.name, content, p.method); err != nil {
			return err
		}
	}
	return z.zip.Close()
}

// writer is one bundle on its way.
type writer struct {
	ctx   context.Context
	zip   *zip.Writer
	from  Contents
	plan  []planned
	there map[string]bool // folded names
}

// planned is a file that will be written.
type planned struct {
	name   string
	hash   archive.Hash
	method uint16
}

// put writes one file. Every file bears the same time, the earliest that a zip
// can hold, so that the bytes tell of nothing but the content.
func (z *writer) put(name string, content []byte, method uint16) error {
	f, err := z.zip.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return err
}

// manifest plans all files and tells of them.
func (z *writer) manifest(s Site) (manifest, error) {
	m := manifest{Undersod: 1, Kind: kind, Version: Version, Site: siteOf(s.Site), Visits: []visit{}, History: []file{}, Changes: []change{}}
	known := map[archive.Hash]bool{}
	visits := slices.Clone(s.Visits)
	slices.SortFunc(visits, func(a, b archive.Visit) int { return strings.Compare(folder(a), folder(b)) })
	for _, v := range visits {
		one, err := z.visit(v)
		if err != nil {
			return m, err
		}
		known[v.Job] = true
		m.Visits = append(m.Visits, one)
	}
	changes := slices.Clone(s.Changes)
	slices.SortStableFunc(changes, func(a, b archive.Change) int { return int(min(max(a.Number-b.Number, -1), 1)) })
	for _, c := range changes {
		m.Changes = append(m.Changes, changeOf(c))
		if c.Deed == archive.PhotoIn || c.Deed == archive.PhotoOut {
			continue // of photos only those that stand are kept
		}
		for _, h := range []archive.Hash{c.Before, c.After} {
			if h == "" || known[h] {
				continue
			}
			known[h] = true
			f, err := z.file(historyFile(h), h, zip.Deflate)
			switch {
			case errors.Is(err, archive.ErrNotFound): // taken from a bundle that had it no more
				continue
			case err != nil:
				return m, err
			}
			m.History = append(m.History, f)
		}
	}
	return m, nil
}

const kind = "site bundle"

func (z *writer) visit(v archive.Visit) (visit, error) {
	out := visit{ID: string(v.ID), Date: v.Heading.Date, Format: v.Format, Revision: int64(v.Revision), Created: stampOf(v.Created),
		Changed: stampOf(v.Changed), Deleted: stampRef(v.Deleted), Photos: []photo{}}
	var err error
	if out.Job, err = z.file(jobFile(v), v.Job, zip.Deflate); err != nil {
		return out, err
	}
	photos := slices.Clone(v.Photos)
	slices.SortFunc(photos, func(a, b archive.Photo) int { return strings.Compare(a.Name, b.Name) })
	for _, p := range photos {
		f, err := z.file(folder(v)+p.Name, p.Content, zip.Store)
		if err != nil {
			return out, err
		}
		out.Photos = append(out.Photos, photo{Name: p.Name, file: f, Width: p.Width, Height: p.Height, Added: stampOf(p.Added)})
	}
	return out, nil
}

// file plans one file. Its content is fetched once for its size and once again
// to be written, so that no more than one is held at a time.
func (z *writer) file(name string, h archive.Hash, method uint16) (file, error) {
	if !archive.SafePath(name) || z.there[archive.FoldedPath(name)] {
		return file{}, refusef("%.120q cannot be the name of a file in a bundle beside the others; rename it in the job", name)
	}
	content, err := z.from.Get(z.ctx, h)
	if err != nil {
		return file{}, fmt.Errorf("%s: %w", name, err)
	}
	if archive.HashOf(content) != h {
		return file{}, fmt.Errorf("%s: %w", name, archive.ErrDamaged)
	}
	z.there[archive.FoldedPath(name)] = true
	z.plan = append(z.plan, planned{name, h, method})
	return file{name, string(h), int64(len(content))}, nil
}

// Bytes writes a site as a bundle in memory.
func Bytes(ctx context.Context, s Site, from Contents) ([]byte, error) {
	var out bytes.Buffer
	err := Write(ctx, &out, s, from)
	return out.Bytes(), err
}

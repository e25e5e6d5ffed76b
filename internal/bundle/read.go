package bundle

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"undersod/internal/archive"
)

// Bundle is a bundle that was read: every file it names was there, of the size
// and with the hash that it states.
type Bundle struct {
	Site
	files map[archive.Hash]*zip.File
}

// Get returns a content of the bundle, checked again; ErrNotFound where the
// bundle has none of that hash.
func (b *Bundle) Get(_ context.Context, h archive.Hash) ([]byte, error) {
	f, ok := b.files[h]
	if !ok {
		return nil, archive.ErrNotFound
	}
	content, err := contentOf(f, int64(f.UncompressedSize64))
	if err != nil {
		return nil, err
	}
	if archive.HashOf(content) != h {
		return nil, refusef("%s has changed since it was opened", f.Name)
	}
	return content, nil
}

// Open reads a bundle of a size and checks all of it before anything is
// returned. It writes nothing anywhere. Errors wrap ErrBundle and say in words
// what is wrong.
func Open(ctx context.Context, r io.ReaderAt, size int64) (*Bundle, error) {
	if size > MostBytes {
		return nil, refusef("the file has %d bytes, at most %d are taken", size, int64(MostBytes))
	}
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, refusef("the file is no zip, or a torn one (%v); send it again as it was made", err)
	}
	files, err := entries(z)
	if err != nil {
		return nil, err
	}
	m, err := readManifest(files)
	if err != nil {
		return nil, err
	}
	o := &opening{ctx: ctx, files: files, named: map[string]bool{"manifest.json": true}, out: &Bundle{files: map[archive.Hash]*zip.File{}}}
	if err := o.take(m); err != nil {
		return nil, err
	}
	return o.out, nil
}

// entries lists the files of a zip by name, and refuses what no bundle holds.
func entries(z *zip.Reader) (map[string]*zip.File, error) {
	if len(z.File) > MostEntries {
		return nil, refusef("it holds %d entries, at most %d are taken", len(z.File), MostEntries)
	}
	out, seen, total := map[string]*zip.File{}, map[string]string{}, uint64(0)
	for _, f := range z.File {
		name, folder := strings.CutSuffix(f.Name, "/")
		switch mode := f.Mode(); {
		case !archive.SafePath(name):
			return nil, refusef("the entry %.120q leads out of the bundle, or is no name that every system can keep", f.Name)
		case mode&fs.ModeType&^fs.ModeDir != 0:
			return nil, refusef("the entry %s is a link or a device; only files are taken", name)
		case f.Flags&1 != 0:
			return nil, refusef("the entry %s is locked with a password; make the bundle without one", name)
		case folder && f.UncompressedSize64 > 0:
			return nil, refusef("the folder %s holds bytes itself", name)
		case f.Method != zip.Store && f.Method != zip.Deflate:
			return nil, refusef("the entry %s is packed in a way that is not read (method %d); only stored and deflated ones are", name, f.Method)
		}
		if other, twice := seen[archive.FoldedPath(name)]; twice {
			return nil, refusef("it holds two entries of one name, %s and %s", other, name)
		}
		seen[archive.FoldedPath(name)] = name
		if total += f.UncompressedSize64; f.UncompressedSize64 > MostBytes || total > MostBytes {
			return nil, refusef("unpacked it would hold more than %d bytes", int64(MostBytes))
		}
		if !folder {
			out[name] = f
		}
	}
	return out, nil
}

// contentOf unpacks a file, no further than its stated size.
func contentOf(f *zip.File, most int64) ([]byte, error) {
	in, err := f.Open()
	if err != nil {
		return nil, refusef("%s cannot be unpacked (%v)", f.Name, err)
	}
	defer in.Close()
	content, err := io.ReadAll(io.LimitReader(in, most+1))
	switch {
	case err != nil:
		return nil, refusef("%s cannot be unpacked (%v); the file is torn or was changed", f.Name, err)
	case int64(len(content)) > most:
		return nil, refusef("%s holds more than the %d bytes that it may", f.Name, most)
	}
	return content, nil
}

func readManifest(files map[string]*zip.File) (manifest, error) {
	var m manifest
	f, ok := files["manifest.json"]
	if !ok {
		return m, refusef("it has no manifest.json: it is no site that undersod exported, or was packed with a folder around it")
	}
	text, err := contentOf(f, MostManifestBytes)
	if err != nil {
		return m, err
	}
	var head struct {
		Kind    string `json:"kind"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return m, refusef("manifest.json cannot be read (%v)", err)
	}
	switch {
	case head.Kind != kind:
		return m, refusef("manifest.json is of a %.60q, and a %q is expected", head.Kind, kind)
	case head.Version > Version:
		return m, refusef("it is of version %d, and this program reads version %d: use a newer program", head.Version, Version)
	case head.Version != Version:
		return m, refusef("it is of version %d, which there never was; version %d is read", head.Version, Version)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&m); err != nil {
		return m, refusef("manifest.json cannot be read (%v)", err)
	}
	if len(m.Visits) > MostVisits || len(m.Changes) > MostChanges {
		return m, refusef("it tells of %d visits and %d changes, at most %d and %d are taken", len(m.Visits), len(m.Changes), MostVisits, MostChanges)
	}
	return m, nil
}

// opening is one bundle on its way in.
type opening struct {
	ctx   context.Context
	files map[string]*zip.File
	named map[string]bool // by the manifest
	out   *Bundle
}

func (o *opening) take(m manifest) error {
	r := &reader{}
	o.out.Site.Site = r.site(m.Site)
	id := o.out.Site.ID
	visits, numbers := map[archive.ID]bool{}, int64(0)
	for _, v := range m.Visits {
		one := r.visit(id, v)
		if visits[one.ID] {
			r.failf("visit %s is there twice", one.ID)
		}
		visits[one.ID] = true
		o.out.Visits = append(o.out.Visits, one)
	}
	for _, c := range m.Changes {
		if c.Number <= numbers {
			r.failf("the changes %d and %d are not in order", numbers, c.Number)
		}
		numbers = c.Number
		o.out.Changes = append(o.out.Changes, r.change(id, c))
	}
	if r.err != nil {
		return r.err
	}
	return o.contents(m)
}

// contents checks every file that the manifest names, and that there is no other.
func (o *opening) contents(m manifest) error {
	for _, v := range m.Visits {
		if err := o.check(v.Job, archive.MostJobBytes); err != nil {
			return err
		}
		for _, p := range v.Photos {
			if err := o.check(p.file, archive.MostPictureBytes); err != nil {
				return err
			}
		}
	}
	for _, f := range m.History {
		if f.File != historyFile(archive.Hash(f.SHA256)) {
			return refusef("manifest.json: an earlier job lies at %.120q; expected history/ and its SHA-256", f.File)
		}
		if err := o.check(f, archive.MostJobBytes); err != nil {
			return err
		}
	}
	return o.stranger()
}

// stranger names a file that the manifest does not.
func (o *opening) stranger() error {
	first := ""
	for name := range o.files {
		if !o.named[name] && (first == "" || name < first) {
			first = name
		}
	}
	if first != "" {
		return refusef("it holds %s, which its manifest.json does not name; take it out", first)
	}
	return nil
}

// check holds one file against the manifest.
func (o *opening) check(f file, most int64) error {
	if err := o.ctx.Err(); err != nil {
		return err
	}
	z, ok := o.files[f.File]
	switch {
	case o.named[f.File]:
		return refusef("manifest.json names %.120s twice", f.File)
	case !ok:
		return refusef("%.120s is missing, though manifest.json names it", f.File)
	case f.Bytes < 0 || f.Bytes > most:
		return refusef("%s has %d bytes, at most %d are taken", f.File, f.Bytes, most)
	case z.UncompressedSize64 != uint64(f.Bytes):
		return refusef("%s has %d bytes, and manifest.json says %d", f.File, z.UncompressedSize64, f.Bytes)
	}
	o.named[f.File] = true
	in, err := z.Open()
	if err != nil {
		return refusef("%s cannot be unpacked (%v)", f.File, err)
	}
	defer in.Close()
	sum := sha256.New()
	n, err := io.Copy(sum, io.LimitReader(in, f.Bytes+1))
	if err != nil || n != f.Bytes {
		return refusef("%s cannot be unpacked to its %d bytes (%v); the file is torn or was changed", f.File, f.Bytes, wrong(err))
	}
	if got := hex.EncodeToString(sum.Sum(nil)); got != f.SHA256 {
		return refusef("%s is not what was exported: its SHA-256 is %s, and manifest.json says %.64s", f.File, got, f.SHA256)
	}
	o.out.files[archive.Hash(f.SHA256)] = z
	return nil
}

func wrong(err error) error {
	if err == nil {
		return fmt.Errorf("it holds another number of bytes")
	}
	return err
}

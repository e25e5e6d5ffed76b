package keeping

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"

	"github.com/spf13/cobra"

	"undersod/core/english"
	"undersod/internal/archive"
	"undersod/internal/archive/disk"
	"undersod/internal/holding"
)

// archiveFolder is the folder of an archive that a command works on.
type archiveFolder struct{ path string }

func (f *archiveFolder) flag(c *cobra.Command) {
	c.Flags().StringVar(&f.path, "data", "", "folder of the archive ("+told(userFolder())+")")
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		if c.Flags().Changed("data") && f.path == "" {
			return errors.New("--data names no folder (a variable that is not set?); name one, as in --data archive, or leave --data out")
		}
		return nil
	}
}

// told is a folder in a help text, as short as it can be told.
func told(path string, err error) string {
	if err != nil {
		return "none by itself"
	}
	if home, err := os.UserHomeDir(); err == nil {
		if rest, err := filepath.Rel(home, path); err == nil && filepath.IsLocal(rest) {
			return filepath.Join("~", rest)
		}
	}
	return path
}

// userFolder is where this platform wants a program to keep a user's data: by
// the XDG Base Directory Specification 0.8, or its like.
func userFolder() (string, error) {
	home, err := os.UserHomeDir()
	base := filepath.Join(home, ".local", "share")
	switch runtime.GOOS {
	case "windows":
		base, err = os.UserCacheDir() // %LocalAppData%
	case "darwin", "ios":
		base = filepath.Join(home, "Library", "Application Support")
	default:
		if named := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(named) {
			base, err = named, nil
		}
	}
	if err != nil {
		return "", fmt.Errorf("name the folder of the archive with --data: this account has no folder of its own")
	}
	return filepath.Join(base, "undersod"), nil
}

// found settles which folder is meant. The one that is meant when none is named
// may lie in folders that are not there yet.
func (f *archiveFolder) found(make bool) error {
	if f.path != "" {
		return nil
	}
	path, err := userFolder()
	if err == nil && make {
		if failed := os.MkdirAll(filepath.Dir(path), 0o700); failed != nil {
			err = fmt.Errorf("the folder %s cannot be made: %w", filepath.Dir(path), bare(failed))
		}
	}
	f.path = path
	return err
}

// bare takes the path off an error, which is told already.
func bare(err error) error {
	if p, ok := errors.AsType[*os.PathError](err); ok {
		return p.Err
	}
	return err
}

// look opens the archive for reading alone.
func (f *archiveFolder) look(ctx context.Context) (*holding.Archive, error) {
	if err := f.found(false); err != nil {
		return nil, err
	}
	a, err := holding.Look(ctx, f.path)
	if errors.Is(err, archive.ErrNotFound) {
		return nil, f.noneThere()
	}
	return a, f.about(err)
}

// noneThere says that the folder has no database, and whether it had one.
func (f *archiveFolder) noneThere() error {
	if _, err := os.Stat(filepath.Join(f.path, "contents")); err == nil {
		return fmt.Errorf("the archive in %s has lost its database; restore the newest backup into an empty folder", f.path)
	}
	return fmt.Errorf("there is no archive in %s; name its folder with --data, or begin one with: undersod serve", f.path)
}

// empty reports whether there is no archive in the folder yet.
func (f *archiveFolder) empty(ctx context.Context) bool {
	if f.found(false) != nil {
		return true // whoever opens it says why
	}
	a, err := holding.Look(ctx, f.path)
	if err == nil {
		a.Close()
	}
	return errors.Is(err, archive.ErrNotFound)
}

// open opens the archive for reading and writing.
func (f *archiveFolder) open(ctx context.Context) (*holding.Archive, error) {
	if err := f.found(true); err != nil {
		return nil, err
	}
	a, err := holding.Open(ctx, f.path)
	return a, f.about(err)
}

// about names the folder in what is wrong with it.
func (f *archiveFolder) about(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, disk.ErrTaken):
		return fmt.Errorf("another undersod has %s open; end it first, or do it through its pages", f.path)
	}
	return fmt.Errorf("the archive in %s cannot be opened: %v", f.path, err)
}

// keptDocument is what the commands of an archive print with --json.
type keptDocument struct {
	Undersod int      `json:"undersod"`
	Kind     string   `json:"kind"`
	Did      string   `json:"did"`
	Folder   string   `json:"folder"`         // of the archive
	File     string   `json:"file,omitempty"` // that was read or written
	Holds    *held    `json:"holds,omitempty"`
	Site     string   `json:"site,omitempty"`
	Name     string   `json:"name,omitempty"`
	Visits   []string `json:"visits,omitempty"`
	Photos   *int     `json:"photos,omitempty"`
	Changed  *int     `json:"changed,omitempty"`
	Trouble  []string `json:"trouble"`
}

// held is how much an archive holds.
type held struct {
	Sites   int64 `json:"sites"`
	Visits  int64 `json:"visits"`
	Photos  int64 `json:"photos"`
	Changes int64 `json:"changes"`
}

func (h held) String() string {
	return fmt.Sprintf("%s, %s, %s, %s", english.Count(int(h.Sites), "site"), english.Count(int(h.Visits), "visit"),
		english.Count(int(h.Photos), "photo"), english.Count(int(h.Changes), "change"))
}

// holds counts what an archive holds.
func holds(ctx context.Context, a *holding.Archive) (held, error) {
	var out held
	err := a.Folder.Store.View(ctx, func(r archive.Reader) error {
		c, err := r.Counts()
		out = held(c)
		return err
	})
	return out, err
}

// tellKept prints what a command of an archive did, in words or as JSON. Trouble
// is on the error output too, and in the exit status.
func (p *Outside) tellKept(d keptDocument, words string, asJSON bool) error {
	for _, t := range d.Trouble {
		p.Found()
		if !asJSON {
			p.Complain("%s", t)
		}
	}
	if !asJSON {
		return p.Write([]byte(words))
	}
	d.Undersod, d.Kind = 1, "archive"
	if d.Trouble == nil {
		d.Trouble = []string{}
	}
	text, err := p.Encode(d)
	if err != nil {
		return err
	}
	return p.Write(text)
}

// Package holding puts an archive together: the data folder on the disk, the rules
// over it, the people, and what is computed of a job. It carries sites in and
// out as files.
package holding

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"slices"
	"time"

	"undersod/core/english"
	"undersod/internal/answer"
	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
	"undersod/internal/archive/fields"
	"undersod/internal/people"
)

// Archive is an archive that is open. Use Open or Look.
type Archive struct {
	Folder  *datafolder.Folder
	Records *archive.Keeper
	People  *people.Desk
	Answers *answer.Desk
}

// Open opens the archive of a folder for reading and writing, and makes it in a
// folder that is empty or not there. The errors are those of datafolder.Open.
func Open(ctx context.Context, path string) (*Archive, error) {
	f, err := datafolder.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	return over(f)
}

// Look opens the archive of a folder for reading alone, also while another
// program has it open.
func Look(ctx context.Context, path string) (*Archive, error) {
	f, err := datafolder.Look(ctx, path)
	if err != nil {
		return nil, err
	}
	return over(f)
}

func over(f *datafolder.Folder) (*Archive, error) {
	desk, err := people.New(people.Settings{Store: f.Store, Now: time.Now, Random: Random})
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	answers := answer.New()
	keeper := &archive.Keeper{Store: f.Store, Blobs: f.Blobs, Now: time.Now, Read: answers.Heading,
		Compare: fields.Compare, Rewrite: answers.Rewrite, Random: Random}
	return &Archive{f, keeper, desk, answers}, nil
}

// Close ends the use of the archive and gives the folder free.
func (a *Archive) Close() error { return a.Folder.Close() }

// Random fills a slice with random bytes that nobody can guess.
func Random(b []byte) { _, _ = rand.Read(b) } // never fails, by its documentation

// Ready reports whether the archive can be read now.
func (a *Archive) Ready(ctx context.Context) error {
	return a.Folder.Store.View(ctx, func(r archive.Reader) error {
		_, err := r.Events(0, 1)
		return err
	})
}

// Unclaimed reports whether nobody has an account yet.
func (a *Archive) Unclaimed(ctx context.Context) (bool, error) {
	all, err := a.People.Accounts(ctx, archive.Program())
	return len(all) == 0, err
}

// DropExpired throws away the sessions that are over and the answers to requests
// that nobody will send again.
func (a *Archive) DropExpired(ctx context.Context) error {
	return a.Folder.Store.Update(ctx, func(w archive.Writer) error { return w.DropExpired(time.Now()) })
}

// mostNamed is how many sites an error names, to choose from.
const mostNamed = 5

// Find returns the one site that words name: its ID, or what a search finds.
// It is an archive.ErrNotFound where there is none, and an archive.ErrRefused,
// with the IDs to choose from, where there are several.
func (a *Archive) Find(ctx context.Context, words string) (archive.ID, error) {
	if id := archive.ID(words); id.Valid() {
		if _, _, err := a.Records.Site(ctx, archive.Program(), id); !errors.Is(err, archive.ErrNotFound) {
			return id, err
		}
	}
	found, err := a.Records.Find(ctx, archive.Program(), archive.Query{Words: words, Most: mostNamed})
	switch {
	case err != nil:
		return "", err
	case len(found.Sites) == 0:
		return "", archive.Told(archive.ErrNotFound, "no site is found by %q", words)
	case len(found.Sites) == 1:
		return found.Sites[0].ID, nil
	}
	return "", several{words, found}
}

// several says that words name more than one site.
type several struct {
	words string
	found archive.Found
}

// Error lists the sites.
func (s several) Error() string {
	var lines []string
	for _, f := range s.found.Sites {
		lines = append(lines, fmt.Sprintf("  %s  %s", f.ID, placed(f.Heading)))
	}
	slices.Sort(lines)
	head := fmt.Sprintf("%s are found by %q; name one by its ID:", english.Count(len(lines), "site"), s.words)
	if s.found.More {
		head = fmt.Sprintf("more than %s are found by %q; say more words, or name one by its ID:", english.Count(mostNamed, "site"), s.words)
	}
	for _, l := range lines {
		head += "\n" + l
	}
	return head
}

// Unwrap makes it an archive.ErrRefused.
func (s several) Unwrap() error { return archive.ErrRefused }

// placed is a site in a line.
func placed(h archive.Heading) string {
	line := h.Name
	if h.Address != "" && h.Address != h.Name {
		line += ", " + h.Address
	}
	if h.Owner != "" {
		line += ", " + h.Owner
	}
	if line == "" {
		return "a site without a name"
	}
	return line
}

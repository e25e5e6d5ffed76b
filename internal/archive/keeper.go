package archive

import (
	"context"
	"time"
)

// Keeper carries out what people ask of an archive, by the rules. Every field
// must be set.
type Keeper struct {
	Store Store
	Blobs Blobs
	// Now is the clock. Where it jumps back, the history of a site does not: a
	// change is stamped with the last stamp of its site until the clock has
	// passed it.
	Now     func() time.Time
	Read    Read
	Compare Compare
	Rewrite Rewrite
	// Random fills a slice with random bytes, for new IDs and tokens. It is called
	// from many sides at once.
	Random func([]byte)
}

// Compare tells which entries of two job files differ, at most so many of
// them, and how many differ in all. A file that cannot be read gives one field
// with an empty pointer. It never fails.
type Compare func(before, after []byte, most int) (fields []Field, all int)

// Rewrite checks a picture, bounds it and writes it anew from its dots, in full
// and small. The error says in words what is wrong with the picture and what to
// do.
type Rewrite func(picture []byte) (full, thumbnail []byte, width, height int, err error)

// What the archive takes at most.
const (
	MostJobBytes     = 4 << 20    // of a job file
	MostPictureBytes = 40_000_000 // of a picture as it is sent
	MostPhotos       = 500        // of a visit
	MostFields       = 200        // kept with one change; its words say how many more there were
	MostListed       = 500        // entries of one list or page
	LongestName      = 200        // bytes of the name of a photo
	LongestKey       = 200        // bytes of the key of a request
	LongestSearch    = 500        // bytes of the words of a search that count
)

// Read makes the heading of a job file: what lists and searches show of it. It
// never fails: a file that cannot be read is kept all the same, and the heading
// says how many mistakes it has.
type Read func(format string, job []byte) Heading

// Write is what every change carries: who asks, and the key of the request. The
// same key again changes nothing and gives the same answer; an empty key is
// never remembered.
type Write struct {
	By  Actor
	Key string
}

// Actor is who asks.
type Actor struct {
	Account ID
	Role    Role
	Session Hash // that the account asks through, if any: the one that a new password leaves open
	Share   ID   // of a visitor with a link, who only looks at Site
	Site    ID
}

// Program is who asks where the program itself does: it may do everything, and
// its stamps bear no account.
func Program() Actor { return Actor{Role: Owner} }

// Saved is the answer of a change.
type Saved struct {
	Site     ID
	Visit    ID
	Revision Revision
	Change   int64 // its number in the history; 0 where nothing changed
}

// Records is what the pages and the interface ask of a Keeper. Every method
// denies what the actor's role does not allow, with ErrDenied, and hides from a
// visitor what is not of the shared site, with ErrNotFound.
type Records interface {
	// SaveVisit stores a job file as a visit. base is the revision that the
	// person started from, 0 for a new visit; ErrStale where another came
	// between; photos that came or went between do not count. An empty site, or
	// one that is not there yet, is made. The same content again changes nothing.
	SaveVisit(ctx context.Context, w Write, site, visit ID, base Revision, format string, job []byte) (Saved, error)
	// AddPhoto stores a picture under the name that the job gives it. It is
	// checked, bounded and written anew first. The same picture again changes
	// nothing; ErrExists where another one has the name, ErrRefused where the name
	// is none that every computer can keep.
	AddPhoto(ctx context.Context, w Write, visit ID, name string, picture []byte) (Saved, error)
	RemovePhoto(ctx context.Context, w Write, visit ID, name string) (Saved, error)
	RemoveVisit(ctx context.Context, w Write, visit ID, base Revision) (Saved, error)
	RecoverVisit(ctx context.Context, w Write, visit ID) (Saved, error)
	RemoveSite(ctx context.Context, w Write, site ID, base Revision) (Saved, error)
	RecoverSite(ctx context.Context, w Write, site ID) (Saved, error)

	// What was removed is shown with Deleted set, but not to visitors, who see
	// neither lists nor history.

	Site(ctx context.Context, a Actor, id ID) (Site, []Visit, error)
	Visit(ctx context.Context, a Actor, id ID) (Visit, error)
	Job(ctx context.Context, a Actor, visit ID) (Visit, []byte, error)
	JobAt(ctx context.Context, a Actor, visit ID, content Hash) ([]byte, error) // one of its history
	Picture(ctx context.Context, a Actor, visit ID, name string, thumbnail bool) ([]byte, error)
	PictureAt(ctx context.Context, a Actor, visit ID, content Hash) ([]byte, error) // one of its history
	Changes(ctx context.Context, a Actor, site ID, before int64, most int) ([]Change, error)
	Find(ctx context.Context, a Actor, q Query) (Found, error)
	Due(ctx context.Context, a Actor, until string, most int) ([]Site, error)
}

// People is what the pages ask about accounts.
type People interface {
	// First makes the first owner; ErrExists where an account is there.
	First(ctx context.Context, login, name, password string) (Account, error)
	// SignIn returns a token for the browser; ErrDenied for a wrong login and a
	// wrong password alike, in the same time, and after too many tries.
	SignIn(ctx context.Context, login, password, agent, from string) (token string, s Session, err error)
	SignOut(ctx context.Context, token string) error
	// Who returns who holds a token, and renews the session; ErrNotFound where
	// nobody does any more.
	Who(ctx context.Context, token string) (Account, Session, error)
	Accounts(ctx context.Context, a Actor) ([]Account, error) // for owners, without passwords
	// Names returns the names of all accounts to everyone who has one: for
	// showing who did what.
	Names(ctx context.Context, a Actor) (map[ID]string, error)
	Invite(ctx context.Context, w Write, login, name string, role Role, password string) (Account, error)
	Change(ctx context.Context, w Write, id ID, name string, role Role, disabled bool) (Account, error)
	// SetPassword signs the account out everywhere but in w.By.Session. One's own
	// needs the old one; an owner sets another's without.
	SetPassword(ctx context.Context, w Write, id ID, old, password string) error
	// Share makes a link. The same request again gives the same token, but
	// ErrExists once the program was started anew: the token is kept nowhere.
	Share(ctx context.Context, w Write, site ID, label string, days int) (token string, s Share, err error)
	Revoke(ctx context.Context, w Write, id ID) error
	Shares(ctx context.Context, a Actor, site ID) ([]Share, error)
	// Visitor returns who holds a link; ErrNotFound where it is unknown, revoked or expired.
	Visitor(ctx context.Context, token string) (Actor, Share, error)
	Events(ctx context.Context, a Actor, before int64, most int) ([]Event, error)
	// Exported enters in the audit list that something left the archive: about
	// says what, on one line.
	Exported(ctx context.Context, a Actor, about string) error
}

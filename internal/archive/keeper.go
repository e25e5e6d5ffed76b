package archive

import (
	"context"
	"time"
)

// Keeper carries out what people ask of an archive, by the rules.
type Keeper struct {
	Store Store
	Blobs Blobs
	Now   func() time.Time
	Read  Read
	// Random fills a slice with random bytes, for new IDs and tokens.
	Random func([]byte)
}

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
	Share   ID // of a visitor with a link, who only looks at Site
	Site    ID
}

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
	// between. An empty site makes a new one. The same content again changes
	// nothing.
	SaveVisit(ctx context.Context, w Write, site, visit ID, base Revision, format string, job []byte) (Saved, error)
	// AddPhoto stores a picture under the name that the job gives it. It is
	// checked, bounded and written anew first.
	AddPhoto(ctx context.Context, w Write, visit ID, name string, picture []byte) (Saved, error)
	RemovePhoto(ctx context.Context, w Write, visit ID, name string) (Saved, error)
	RemoveVisit(ctx context.Context, w Write, visit ID, base Revision) (Saved, error)
	RecoverVisit(ctx context.Context, w Write, visit ID) (Saved, error)
	RemoveSite(ctx context.Context, w Write, site ID, base Revision) (Saved, error)
	RecoverSite(ctx context.Context, w Write, site ID) (Saved, error)

	Site(ctx context.Context, a Actor, id ID) (Site, []Visit, error)
	Visit(ctx context.Context, a Actor, id ID) (Visit, error)
	Job(ctx context.Context, a Actor, visit ID) (Visit, []byte, error)
	JobAt(ctx context.Context, a Actor, visit ID, content Hash) ([]byte, error) // one of its history
	Picture(ctx context.Context, a Actor, visit ID, name string, thumbnail bool) ([]byte, error)
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
	// Who returns who holds a token, and renews the session.
	Who(ctx context.Context, token string) (Account, Session, error)
	Accounts(ctx context.Context, a Actor) ([]Account, error)
	Invite(ctx context.Context, w Write, login, name string, role Role, password string) (Account, error)
	Change(ctx context.Context, w Write, id ID, name string, role Role, disabled bool) (Account, error)
	SetPassword(ctx context.Context, w Write, id ID, old, password string) error
	Share(ctx context.Context, w Write, site ID, label string, days int) (token string, s Share, err error)
	Revoke(ctx context.Context, w Write, id ID) error
	Shares(ctx context.Context, a Actor, site ID) ([]Share, error)
	// Visitor returns who holds a link; ErrNotFound where it is unknown, revoked or expired.
	Visitor(ctx context.Context, token string) (Actor, Share, error)
	Events(ctx context.Context, a Actor, before int64, most int) ([]Event, error)
}

package archive

import (
	"context"
	"io"
	"time"

	"undersod/core/unit"
)

// Store keeps everything but the contents of pictures and job files. All
// changes of one Update are kept together or not at all, and are on the disk
// when it returns nil. Updates run one after another; a View sees one moment.
// Functions given may be run again and must do nothing but use their Tx.
type Store interface {
	View(context.Context, func(Reader) error) error
	Update(context.Context, func(Writer) error) error
	Close() error
}

// DefaultMost is how many a list holds where the most asked for is 0 or less.
const DefaultMost = 50

// AnswersKept is how long the answer to a request is remembered.
const AnswersKept = 30 * 24 * time.Hour

// Reader reads. What is deleted is returned too, with Deleted set, except by
// Find and Due. Slices come in the order stated, equals by rising ID;
// ErrNotFound says that one thing named is not there, a list is then empty.
// Times come back in UTC, in whole milliseconds. What is returned belongs to
// the caller.
type Reader interface {
	Site(ID) (Site, error)
	Visit(ID) (Visit, error)
	Visits(site ID) ([]Visit, error)                           // newest date first, then newest made
	Changes(site ID, before int64, most int) ([]Change, error) // newest first; before 0 from the newest
	Since(number int64, most int) ([]Change, error)            // above the number, over all sites, oldest first
	Find(Query) (Found, error)
	Due(until string, most int) ([]Site, error) // up to that day, by rising NextLook; all where until is empty

	Account(ID) (Account, error)
	AccountByLogin(string) (Account, error)
	Accounts() ([]Account, error) // by login
	Session(token Hash) (Session, error)
	Sessions(account ID) ([]Session, error) // newest first
	Share(ID) (Share, error)
	ShareByToken(Hash) (Share, error)
	Shares(site ID) ([]Share, error)                // newest first; every site's where site is empty
	Events(before int64, most int) ([]Event, error) // newest first; before 0 from the newest

	Answered(key string) (answer []byte, err error) // of a request that was already carried out
	Contents() ([]Hash, error)                      // every content that something refers to, rising
	Counts() (Counts, error)
}

// Counts is how much the archive holds.
type Counts struct{ Sites, Visits, Photos, Changes int64 }

// Writer changes what is kept, and reads what it changed. What is put must be
// whole: texts are UTF-8 without a zero byte, a visit's site is put before it,
// a site's position is within 90° and 180°. Numbers count from 1 without a gap,
// whatever number a change or an event brings along.
type Writer interface {
	Reader

	PutSite(Site) error   // made or replaced, whole
	PutVisit(Visit) error // made or replaced, with its photos
	AddChange(Change) (number int64, err error)

	PutAccount(Account) error // ErrExists where another has the login
	PutSession(Session) error
	DropSession(token Hash) error    // nothing happens where it is unknown
	DropSessions(account ID) error   // all of an account
	DropExpired(now time.Time) error // sessions that are over now, and answers older than AnswersKept
	PutShare(Share) error
	AddEvent(Event) (number int64, err error)

	PutAnswer(key string, at time.Time, answer []byte) error // ErrExists where the key has one
}

// Query is a search. Empty fields do not narrow it. Without a place, what was
// put last comes first.
type Query struct {
	Words   string // in Heading.Searched, by the rules of archive/words: all must occur, each as the start of a word
	Near    *Near
	Deleted bool // the deleted ones, in place of those that stand
	Skip    int
	Most    int // at most so many; 0 takes 50
}

// Near asks for the sites about a place, the nearest first by its Distance.
// Sites without a position are not among them.
type Near struct {
	Latitude, Longitude unit.Angle
	Within              unit.Length // the limit included; any distance where it is 0 or less
}

// Found is what a search found.
type Found struct {
	Sites []FoundSite
	More  bool // there are more than were asked for
}

// FoundSite is a site and how far it lies from the place asked for.
type FoundSite struct {
	Site
	Distance unit.Length // along the ground; 0 without a place
}

// Blobs keeps contents by their hash, for ever.
type Blobs interface {
	// Put stores a content and returns its hash, on the disk when it returns
	// nil. What is there already is left as it is.
	Put(ctx context.Context, content []byte) (Hash, error)
	// Get returns a content, checked against its hash: ErrNotFound, ErrDamaged.
	Get(ctx context.Context, h Hash) ([]byte, error)
	// Each calls f for every content kept, by rising hash.
	Each(ctx context.Context, f func(h Hash, bytes int64) error) error
	// Copy writes a content out as it is kept.
	Copy(ctx context.Context, h Hash, w io.Writer) error
}

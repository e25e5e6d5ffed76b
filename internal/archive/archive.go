// Package archive is the record that keeps: sites, visits, photos, people and
// the history of every change, as rules that hold whatever stores them. What a
// database, a folder or the memory must be able to do for it is Store and
// Blobs; a suite of tests in archivetest holds every one of them to the same.
//
// A visit is kept as the job file that a person wrote, byte for byte. All else
// that is known of it (names, findings, due dates, words to search by) is made
// from that file again at every write, and never edited by itself.
package archive

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"undersod/core/unit"
)

// ID names a site, a visit, an account, a session or a share: 26 lower case
// letters and digits, made at random by whoever makes the thing, so that a
// phone without a network can make one.
type ID string

// Hash is the SHA-256 of a content, in lower case hexadecimal.
type Hash string

// Revision counts the changes of a visit or a site from 1 on. 0 is not stored yet.
type Revision int64

// Stamp is who did something and when.
type Stamp struct {
	At time.Time // UTC, in whole milliseconds
	By ID        // account; empty for the program itself
}

// Site is one property. Everything but its names of records and stamps is made
// from the newest of its visits.
type Site struct {
	ID       ID
	Revision Revision
	Created  Stamp
	Changed  Stamp
	Deleted  *Stamp // nil for a site that stands; a deleted one can be brought back

	Heading Heading // of the newest visit that stands
}

// Heading is what lists and searches show of a visit's job.
type Heading struct {
	Name, Address, County, Owner, Parcel, Permit, Authority string

	Date      string // of the visit, ISO 8601; empty when the job states none
	By        string // who measured
	Latitude  *unit.Angle
	Longitude *unit.Angle
	Fill      string // the verdict in words: whether the hole may be filled
	Mistakes  int    // in the job file
	Acts      int    // things to do now or within weeks
	NextLook  string // ISO 8601 date of the next look or pumping, the earliest; empty when none is known
	NextWhat  string // what is due then
	Words     string // everything else to search by: parts, findings, notes
}

// Searched returns what a search looks through.
func (h Heading) Searched() string {
	return strings.Join([]string{h.Name, h.Address, h.County, h.Owner, h.Parcel, h.Permit, h.Authority, h.By, h.NextWhat, h.Words}, "\n")
}

// Visit is one day's work on a site.
type Visit struct {
	ID       ID
	Site     ID
	Revision Revision
	Created  Stamp
	Changed  Stamp
	Deleted  *Stamp
	Job      Hash   // of the job file, as stored
	Format   string // "yaml" or "json"
	Heading  Heading
	Photos   []Photo
}

// Photo is a picture of a visit.
type Photo struct {
	Name          string // as the job names it: "photos/box.jpg"
	Content       Hash   // written anew from its dots, without what a camera hides
	Thumbnail     Hash
	Bytes         int64
	Width, Height int
	Added         Stamp
}

// Field is one entry of a job file that changed: where, as a JSON pointer
// (RFC 6901), and what stood there before and after, as JSON; empty where there
// was nothing.
type Field struct{ Pointer, Before, After string }

// Deed is what a change did.
type Deed string

// The deeds.
const (
	Made      Deed = "made"
	Altered   Deed = "altered"
	Removed   Deed = "removed"
	Recovered Deed = "recovered"
	PhotoIn   Deed = "photo added"
	PhotoOut  Deed = "photo removed"
)

// Change is one entry of the history. Nothing ever edits or removes one.
type Change struct {
	Number   int64 // rises by one over the whole archive
	Stamp    Stamp
	Deed     Deed
	Site     ID
	Visit    ID // empty for a change of the site alone
	Revision Revision
	Before   Hash // the job file before, or the picture of a photo; empty where there was none
	After    Hash // and after
	Fields   []Field
	Words    string // for a person: "3 entries changed", "photo photos/box.jpg added"
}

// Role is what an account may do.
type Role string

// The roles, from most to least.
const (
	Owner    Role = "owner"     // everything, people included
	Office   Role = "office"    // sites, visits, shares, the audit list
	Crew     Role = "crew"      // sites and visits
	ReadOnly Role = "read-only" // looks
)

// Roles returns every role, from most to least.
func Roles() []Role { return []Role{Owner, Office, Crew, ReadOnly} }

// Account is a person who may sign in.
type Account struct {
	ID       ID
	Login    string // lower case, unique
	Name     string
	Role     Role
	Password string // argon2id in its usual text form; never shown
	Disabled bool
	Created  Stamp
	Changed  Stamp
}

// Session is a person signed in on one device. The token itself is not kept.
type Session struct {
	Token   Hash // of the token that the browser holds
	Account ID
	Created time.Time
	Seen    time.Time
	Expires time.Time
	Agent   string // what the browser calls itself, shortened
}

// Share is a link that shows one site to whoever holds it, without an account.
// The token itself is not kept.
type Share struct {
	ID      ID
	Token   Hash
	Site    ID
	Label   string // for whom: "county office"
	Created Stamp
	Expires time.Time
	Revoked *Stamp
}

// Event is one entry of the audit list: who did what, without the content.
type Event struct {
	Number int64
	Stamp  Stamp
	What   string // "signed in", "share made", "account disabled"
	About  string // whose or which
}

// The errors that every store and every rule returns, tested with errors.Is.
var (
	ErrNotFound = errors.New("there is no such thing in the archive")
	ErrExists   = errors.New("it is in the archive already")
	// ErrStale means that the thing was changed since it was read; the person
	// must look at both.
	ErrStale = errors.New("it was changed by someone else in the meantime")
	// ErrRemoved means that the thing is among the deleted ones and takes no
	// change until it is brought back.
	ErrRemoved = errors.New("it was removed; recover it first")
	// ErrRefused means that what was sent cannot be taken as it is; the words
	// around it say what to send instead.
	ErrRefused = errors.New("what was sent cannot be taken")
	// ErrTooLarge means that what was sent is larger than the archive takes.
	ErrTooLarge = errors.New("what was sent is too large")
	// ErrKeyUsed means that the key of a request was used for another request.
	ErrKeyUsed = errors.New("the key of this request was used for another one; make a new key")
	// ErrDenied means that the account may not do this.
	ErrDenied = errors.New("this account may not do that")
	// ErrFull means that the disk took no more; nothing was changed.
	ErrFull = errors.New("the disk is full; nothing was changed")
	// ErrReadOnly means that the folder may not be written in.
	ErrReadOnly = errors.New("the folder of the archive may not be written in; nothing was changed")
	// ErrDamaged means that what was read is not what was written.
	ErrDamaged = errors.New("what was read is not what was written")
)

// Told returns an error of a kind, one of the errors above, that reads as words
// of its own: those that say already what the kind would say after them.
func Told(kind error, format string, args ...any) error {
	return told{kind, fmt.Sprintf(format, args...)}
}

type told struct {
	kind  error
	words string
}

func (t told) Error() string { return t.words }
func (t told) Unwrap() error { return t.kind }

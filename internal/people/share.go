package people

import (
	"context"
	"errors"
	"fmt"
	"time"

	"undersod/internal/archive"
)

// How long a link lasts, in days.
const (
	LeastDays = 1
	MostDays  = 365
)

const (
	longestShareLabel = 100 // characters
	mostShares        = 100 // of one site that are open at the same time
)

var errNoShare = archive.Told(archive.ErrNotFound, "there is no such link, or it is no longer open; ask whoever sent it for a new one")

// Share makes a link that shows one site to whoever holds it, for a number of
// days, by an owner or the office. The label says for whom it is. The token is
// kept nowhere: the same request again gets it again only until the program
// ends, and an archive.ErrExists after that.
func (d *Desk) Share(ctx context.Context, w archive.Write, site archive.ID, label string, days int) (string, archive.Share, error) {
	asked := request("share", site, label, days)
	s := archive.Share{ID: archive.NewID(d.random), Site: site, Created: d.stamp(w.By)}
	s.Expires = s.Created.At.Add(time.Duration(days) * 24 * time.Hour)
	token := d.newToken()
	if w.Key != "" {
		token = d.tokenFor(string(w.By.Account)+" "+w.Key, s.ID)
	}
	s.Token = archive.HashOf([]byte(token))
	made, err := once(ctx, d, w, shares(), asked, func(tx archive.Writer) (archive.Share, error) {
		if days < LeastDays || days > MostDays {
			return s, refused("the days that the link lasts: %d; %d to %d are expected", days, LeastDays, MostDays)
		}
		var err error
		if s.Label, err = line("for whom the link is", label, longestShareLabel); err != nil {
			return s, err
		}
		if err := shareable(tx, site, s.Created.At); err != nil {
			return s, err
		}
		if err := tx.PutShare(s); err != nil {
			return s, err
		}
		return s, d.enter(tx, w.By, ShareMade, aboutShare(s))
	})
	if err != nil {
		return "", archive.Share{}, err
	}
	if made.ID != s.ID { // the answer to an earlier request with this key
		token = d.tokenFor(string(w.By.Account)+" "+w.Key, made.ID)
		if archive.HashOf([]byte(token)) != made.Token {
			return "", made, archive.Told(archive.ErrExists, "this link was made before the program was started anew, and what opens it is kept nowhere; revoke it and make another")
		}
	}
	return token, made, nil
}

// shareable refuses a site that is not there, or has too many links.
func shareable(tx archive.Reader, site archive.ID, now time.Time) error {
	s, err := tx.Site(site)
	if err != nil {
		return fmt.Errorf("site %.40q: %w", site, err)
	}
	if s.Deleted != nil {
		return fmt.Errorf("site %.40q: %w", site, archive.ErrRemoved)
	}
	all, err := tx.Shares(site)
	if err != nil {
		return err
	}
	n := 0
	for _, s := range all {
		if open(s, now) {
			n++
		}
	}
	if n >= mostShares {
		return refused("the site has %d open links, at most %d are taken; revoke one that is not needed", n, mostShares)
	}
	return nil
}

// open reports whether a link shows anything.
func open(s archive.Share, now time.Time) bool { return s.Revoked == nil && s.Expires.After(now) }

func aboutShare(s archive.Share) string {
	return fmt.Sprintf("site %s for %s, until %s", s.Site, s.Label, s.Expires.Format(time.DateOnly))
}

// Revoke closes a link at once, by an owner or the office. Revoking it again
// changes nothing.
func (d *Desk) Revoke(ctx context.Context, w archive.Write, id archive.ID) error {
	stamp := d.stamp(w.By)
	_, err := once(ctx, d, w, shares(), request("revoke", id), func(tx archive.Writer) (bool, error) {
		s, err := tx.Share(id)
		if err != nil {
			return false, fmt.Errorf("link %.40q: %w", id, err)
		}
		if s.Revoked != nil {
			return true, nil
		}
		s.Revoked = &stamp
		if err := tx.PutShare(s); err != nil {
			return false, err
		}
		return true, d.enter(tx, w.By, ShareRevoked, aboutShare(s))
	})
	return err
}

// Shares returns the links of a site, or of every site where it is empty, the
// newest first, closed ones too, to an owner or the office.
func (d *Desk) Shares(ctx context.Context, a archive.Actor, site archive.ID) ([]archive.Share, error) {
	return view(ctx, d, func(r archive.Reader) ([]archive.Share, error) {
		if err := may(r, a, shares()); err != nil {
			return nil, err
		}
		return r.Shares(site)
	})
}

// Visitor returns who holds a link. One that is unknown, revoked or expired is
// an archive.ErrNotFound, in the same words.
func (d *Desk) Visitor(ctx context.Context, token string) (archive.Actor, archive.Share, error) {
	hash, ok := tokenHash(token)
	if !ok {
		return archive.Actor{}, archive.Share{}, errNoShare
	}
	s, err := view(ctx, d, func(r archive.Reader) (archive.Share, error) { return r.ShareByToken(hash) })
	switch {
	case errors.Is(err, archive.ErrNotFound), err == nil && !open(s, d.clock()):
		return archive.Actor{}, archive.Share{}, errNoShare
	case err != nil:
		return archive.Actor{}, archive.Share{}, err
	}
	return archive.Actor{Share: s.ID, Site: s.Site}, s, nil
}

package archive

import (
	"fmt"
	"slices"
)

// staff denies all but accounts with a role, and the program itself.
func (a Actor) staff() error {
	if a.Share != "" || a.Site != "" || !slices.Contains(Roles(), a.Role) {
		return ErrDenied
	}
	return nil
}

// writer denies all that may not change sites and visits.
func (a Actor) writer() error {
	if err := a.staff(); err != nil {
		return err
	}
	if a.Role == ReadOnly {
		return fmt.Errorf("it may only look: %w", ErrDenied)
	}
	return nil
}

// visitor reports whether the actor holds a link to one site.
func (a Actor) visitor() bool { return a.Share != "" && a.Site != "" }

// looks denies nobody in particular, and hides everything but its site from a
// visitor.
func (a Actor) looks(site ID) error {
	if !a.visitor() {
		return a.staff()
	}
	if site != a.Site {
		return ErrNotFound
	}
	return nil
}

// lists denies nobody in particular, and hides lists and history from visitors.
func (a Actor) lists() error {
	if a.visitor() {
		return ErrNotFound
	}
	return a.staff()
}

// sees hides what was removed from a visitor.
func (a Actor) sees(deleted *Stamp) error {
	if a.visitor() && deleted != nil {
		return ErrNotFound
	}
	return nil
}

//go:build unix

package disk

import (
	"errors"
	"os"
	"syscall"
)

func isQuota(err error) bool { return errors.Is(err, syscall.EDQUOT) }

// noFolderSync reports whether a file system knows no sync of folders.
func noFolderSync(err error) bool {
	return errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP)
}

// openAlone opens a file, made where it is missing, for this process alone.
func openAlone(file string) (*os.File, error) {
	f, err := os.OpenFile(file, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

func taken(err error) bool { return errors.Is(err, syscall.EWOULDBLOCK) }

package disk

import (
	"errors"
	"os"
	"syscall"
)

func isQuota(err error) bool {
	const errorDiskFull, errorHandleDiskFull = syscall.Errno(112), syscall.Errno(39) // winerror.h
	return errors.Is(err, errorDiskFull) || errors.Is(err, errorHandleDiskFull)
}

// noFolderSync reports whether a file system knows no sync of folders. Windows
// keeps the names of a folder in the log of its file system.
func noFolderSync(error) bool { return true }

// openAlone opens a file, made where it is missing, for this process alone.
func openAlone(file string) (*os.File, error) {
	name, err := syscall.UTF16PtrFromString(file)
	if err != nil {
		return nil, err
	}
	const shared = 0 // with nobody
	h, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, shared, nil,
		syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: file, Err: err}
	}
	return os.NewFile(uintptr(h), file), nil
}

func taken(err error) bool {
	const sharingViolation = syscall.Errno(32) // winerror.h
	return errors.Is(err, sharingViolation)
}

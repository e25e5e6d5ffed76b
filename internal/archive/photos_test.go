package archive_test

import (
	"strings"
	"testing"

	"undersod/internal/archive"
)

// TestPhotoNamesThatNoFileCanHave holds that what is kept can be carried out.
func TestPhotoNamesThatNoFileCanHave(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 1")
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "photos/Box.jpg", []byte("picture")))
	for _, name := range []string{
		"photos/a?.jpg", "a*.jpg", `a".jpg`, "a<b.jpg", "a|b.jpg", "photos/a.jpg.", "photos/a.jpg ", "photos /a.jpg", "con", "photos/NUL.jpg", "com1.jpg", "photos/lpt9/a.jpg",
		"job.yaml", "job.json", "JOB.yaml", "job.yaml/a.jpg",
		"photos/box.jpg", "PHOTOS/BOX.JPG", "photos/Box.jpg/a.jpg", "photos", "Photos",
	} {
		_, err := b.AddPhoto(ctx, asCrew, s.Visit, name, []byte("picture"))
		b.is(err, archive.ErrRefused)
		if err != nil && !strings.Contains(err.Error(), "rename") && !strings.Contains(err.Error(), "give ") {
			t.Errorf("%q: the words do not say what to do: %v", name, err)
		}
	}
	for _, name := range []string{"photos/ä b.jpg", "console.jpg", "com.jpg", "jobs.yaml.jpg", "photos/job.yaml", "photos/Box.jpg2"} {
		b.must(b.AddPhoto(ctx, asCrew, s.Visit, name, []byte("picture")))
	}
	b.sound()
}

func TestAPictureThatWasTakenAwayCanBeFetched(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 1")
	other := b.save(s.Site, "a: 2")
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture 1")))
	b.must(b.RemovePhoto(ctx, asCrew, s.Visit, "a.jpg"))
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture 2")))
	for _, words := range []string{"full picture 1", "full picture 2"} {
		if got, err := b.PictureAt(ctx, crew, s.Visit, archive.HashOf([]byte(words))); err != nil || string(got) != words {
			t.Errorf("%q: %q, %v", words, got, err)
		}
		_, err := b.PictureAt(ctx, crew, other.Visit, archive.HashOf([]byte(words)))
		b.is(err, archive.ErrNotFound)
	}
	for _, h := range []archive.Hash{"", archive.HashOf([]byte("a: 1")), archive.HashOf([]byte("small picture 1"))} {
		_, err := b.PictureAt(ctx, crew, s.Visit, h)
		b.is(err, archive.ErrNotFound)
	}
}

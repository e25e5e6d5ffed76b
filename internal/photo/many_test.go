package photo_test

import (
	"fmt"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"

	"undersod/internal/photo"
)

func TestManyAreReadyWhateverTheirOrder(t *testing.T) {
	files := map[string][]byte{"text.jpg": []byte("no picture")}
	names := []string{"gone.jpg", "text.jpg", "text.jpg"}
	for i := range 12 {
		name := fmt.Sprintf("photo %d.jpg", i)
		files[name] = withExif(asJPEG(t, grainy(100+i, 80), 90), fullExif(orders[i%2], 1+i%8))
		names = append(names, name)
	}
	var first map[string]photo.Prepared
	for _, processors := range []int{1, 2} {
		before := runtime.GOMAXPROCS(processors)
		var steps []string
		ready, wrong := photo.PrepareAll(folder(files), names, photo.Options{LongSide: 50}, func(done, total int) {
			steps = append(steps, fmt.Sprint(done, "/", total))
		})
		runtime.GOMAXPROCS(before)
		if len(ready) != 12 || len(wrong) != 2 {
			t.Fatalf("%d are ready and %d wrong, want 12 and 2", len(ready), len(wrong))
		}
		if want := "1/14 2/14 3/14 4/14 5/14 6/14 7/14 8/14 9/14 10/14 11/14 12/14 13/14 14/14"; strings.Join(steps, " ") != want {
			t.Errorf("progress was %v", steps)
		}
		if !strings.HasPrefix(wrong["gone.jpg"], "there is no such file") || !strings.HasPrefix(wrong["text.jpg"], "it is a text") {
			t.Errorf("wrong are %q", wrong)
		}
		for name, p := range ready {
			alone, err := photo.Prepare(folder(files), name, photo.Options{LongSide: 50})
			if err != nil || !reflect.DeepEqual(alone, p) || p.File != name {
				t.Errorf("%s alone is another picture, error %v", name, err)
			}
		}
		if first != nil && !reflect.DeepEqual(first, ready) {
			t.Error("with two processors the pictures are others")
		}
		first = ready
	}
}

func TestNoneAreReadyOfNone(t *testing.T) {
	ready, wrong := photo.PrepareAll(folder(nil), nil, photo.Options{}, nil)
	if ready == nil || wrong == nil || len(ready)+len(wrong) > 0 {
		t.Errorf("%v and %v", ready, wrong)
	}
}

// TestWorkWaitsForMemory runs more work at once than memory allows, some of
// which alone takes more than there is.
func TestWorkWaitsForMemory(t *testing.T) {
	const all = 100
	take, give := photo.Budget(all)
	var mutex sync.Mutex
	var used, most, count int64
	var done sync.WaitGroup
	for i := range 200 {
		bytes := int64(1 + i*37%130)
		done.Go(func() {
			take(bytes)
			mutex.Lock()
			used += min(bytes, all)
			most, count = max(most, used), count+1
			mutex.Unlock()
			runtime.Gosched()
			mutex.Lock()
			used -= min(bytes, all)
			mutex.Unlock()
			give(bytes)
		})
	}
	done.Wait()
	if count != 200 || most > all || used != 0 {
		t.Errorf("%d pieces of work took up to %d of %d, %d are left", count, most, all, used)
	}
}

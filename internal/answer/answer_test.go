package answer_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"strings"
	"sync"
	"testing"
	"time"

	"undersod/examples"
	"undersod/internal/answer"
	"undersod/internal/archive"
)

func demo() answer.Job {
	return answer.Job{Format: "yaml", Bytes: examples.Demo(), Photos: examples.DemoFiles()}
}

func TestFilesAreWhatTheySay(t *testing.T) {
	d, ctx, job := answer.New(), context.Background(), demo()
	for name, c := range map[string]struct {
		ask   func() (answer.File, error)
		magic string
	}{
		"owner":  {func() (answer.File, error) { return d.Owner(ctx, job) }, "%PDF-"},
		"county": {func() (answer.File, error) { return d.County(ctx, job) }, "%PDF-"},
		"card":   {func() (answer.File, error) { return d.CardFile(ctx, job, "D-box", "pdf") }, "%PDF-"},
		"svg":    {func() (answer.File, error) { return d.Draw(ctx, job, answer.Drawing{Format: "svg", Setbacks: true}) }, "<?xml"},
		"dxf": {func() (answer.File, error) {
			return d.Draw(ctx, job, answer.Drawing{Format: "dxf", Ties: true, Scale: 360})
		}, "999"},
		"calendar": {func() (answer.File, error) { return d.Calendar(ctx, job) }, "BEGIN:VCALENDAR"},
	} {
		first, err := c.ask()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		again, err := c.ask()
		if err != nil || !bytes.Equal(first.Bytes, again.Bytes) {
			t.Errorf("%s: asked again it differs: %v", name, err)
		}
		if head := strings.TrimSpace(string(first.Bytes[:min(len(first.Bytes), 40)])); name != "dxf" && !strings.HasPrefix(head, c.magic) {
			t.Errorf("%s begins with %q", name, head)
		}
	}
}

func TestOfOneVisitNothingMoved(t *testing.T) {
	c, err := answer.New().Compare(context.Background(), answer.Pair{Before: demo(), After: demo()})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Places {
		if p.Verdict == "moved" {
			t.Errorf("%s moved", p.Name)
		}
	}
}

func TestFitOfWhatIsSent(t *testing.T) {
	d, ctx := answer.New(), context.Background()
	got, err := d.Fit(ctx, demo(), []byte(`{"Shed": {"kind": "structure", "size": "10' x 8'"}}`))
	if err != nil || len(got.Fits) != 1 || got.Fits[0].Name != "Shed" {
		t.Fatalf("%v, %v", got.Fits, err)
	}
	for sent, want := range map[string]string{
		`{"Shed": {"kind": "structure", "size": "10'"}}`: "size", `[`: "", `{}`: "nothing is proposed",
		`{"Shed": {"kind": "structure", "size": "10' x 8'", "near": "D-bxo"}}`: "D-box",
	} {
		_, err := d.Fit(ctx, demo(), []byte(sent))
		if err == nil || !strings.Contains(err.Error(), want) || !errors.Is(err, archive.ErrRefused) && !errors.Is(err, archive.ErrNotFound) {
			t.Errorf("%s: %v", sent, err)
		}
	}
}

func TestErrorsAreInWords(t *testing.T) {
	d, ctx := answer.New(), context.Background()
	for name, c := range map[string]struct {
		job  answer.Job
		want string
	}{
		"no job":   {answer.Job{Format: "yaml", Bytes: []byte("\x00\xff")}, ""},
		"nothing":  {answer.Job{Format: "json", Bytes: []byte(`{"undersod": 1, "nonsense": 2}`)}, "nothing"},
		"the pack": {answer.Job{Format: "yaml", Bytes: examples.Demo(), Pack: "washingtn"}, "washington"},
	} {
		_, err := d.Check(ctx, c.job)
		if !errors.Is(err, archive.ErrRefused) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := d.Card(ctx, demo(), "D-bxo"); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("a card of nothing: %v", err)
	}
	if _, err := d.Draw(ctx, demo(), answer.Drawing{Format: "exe"}); !errors.Is(err, archive.ErrRefused) {
		t.Errorf("a drawing of no format: %v", err)
	}
}

func TestAnImportIsToldAndTheRestIsUsed(t *testing.T) {
	job := answer.Job{Format: "yaml", Bytes: append([]byte("import: [field-book.csv]\n"), examples.Demo()...)}
	c, err := answer.New().Check(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	if c.Verdict.Fill != "no" || len(c.Problems) == 0 || !strings.Contains(fmt.Sprint(c.Problems), "import") {
		t.Errorf("the verdict is %s, the problems are %v", c.Verdict.Fill, c.Problems)
	}
}

func TestAHostileJobEndsSoon(t *testing.T) {
	var many strings.Builder
	many.WriteString("undersod: 1\nmarks:\n")
	for i := range 15_000 {
		fmt.Fprintf(&many, "  p%d: pin\n", i)
	}
	start := time.Now()
	_, err := answer.New().Check(context.Background(), answer.Job{Format: "yaml", Bytes: []byte(many.String())})
	if !errors.Is(err, archive.ErrRefused) || !strings.Contains(err.Error(), "points") {
		t.Errorf("got %v", err)
	}
	if took := time.Since(start); took > 20*time.Second { // on a machine that others use
		t.Errorf("it took %v", took)
	}
}

func TestWhoGaveUpIsNotWaitedFor(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	d := answer.New()
	if _, err := d.Check(ctx, demo()); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if _, err := d.Check(context.Background(), demo()); err != nil {
		t.Errorf("the next one: %v", err)
	}
}

func TestManyAskAtOnce(t *testing.T) {
	d := answer.New()
	var wait sync.WaitGroup
	for range 16 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			if _, err := d.Check(context.Background(), demo()); err != nil {
				t.Error(err)
			}
			if h := d.Heading("yaml", examples.Demo()); h.Name == "" {
				t.Error("no heading")
			}
		}()
	}
	wait.Wait()
}

func TestHeadingSaysWhatListsShow(t *testing.T) {
	h := answer.New().Heading("yaml", examples.Demo())
	for name, v := range map[string]string{"name": h.Name, "address": h.Address, "county": h.County, "permit": h.Permit, "date": h.Date, "by": h.By, "fill": h.Fill, "next look": h.NextLook, "next what": h.NextWhat} {
		if v == "" {
			t.Errorf("it has no %s", name)
		}
	}
	if _, err := time.Parse(time.DateOnly, h.NextLook); err != nil {
		t.Error(err)
	}
	for _, word := range []string{"D-box", "fine roots", "maple"} {
		if !strings.Contains(strings.ToLower(h.Words), strings.ToLower(word)) {
			t.Errorf("%q is not searched: %s", word, h.Words)
		}
	}
}

func TestHeadingNeverFails(t *testing.T) {
	d := answer.New()
	for _, text := range []string{"", "\x00", "{", strings.Repeat("[", 1000)} {
		if h := d.Heading("yaml", []byte(text)); h.Mistakes == 0 || h.Fill == "" {
			t.Errorf("%q: %+v", text, h)
		}
	}
}

func TestRewriteMakesACleanPictureAndASmallOne(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 3000, 1500)), nil); err != nil {
		t.Fatal(err)
	}
	full, small, w, h, err := answer.New().Rewrite(append(b.Bytes(), "HIDDEN"...))
	if err != nil {
		t.Fatal(err)
	}
	if w != 2400 || h != 1200 || bytes.Contains(full, []byte("HIDDEN")) {
		t.Errorf("%d x %d dots", w, h)
	}
	c, err := jpeg.DecodeConfig(bytes.NewReader(small))
	if err != nil || c.Width != 320 {
		t.Errorf("the small one: %v, %v", c.Width, err)
	}
	if _, _, _, _, err := answer.New().Rewrite([]byte("no picture")); err == nil {
		t.Error("words passed for a picture")
	}
}

func BenchmarkCheckAnew(b *testing.B) {
	for b.Loop() {
		if _, err := answer.New().Check(context.Background(), demo()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHeading(b *testing.B) {
	n := 0
	d := answer.New()
	for b.Loop() {
		n++
		d.Heading("yaml", append(fmt.Appendf(nil, "# %d\n", n), examples.Demo()...))
	}
}

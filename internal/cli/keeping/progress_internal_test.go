package keeping

import (
	"bytes"
	"testing"
	"time"
)

func TestProgress(t *testing.T) {
	var out bytes.Buffer
	g := (&Outside{Err: &out, Notes: true}).progress()
	g.at("contents", 1, 20)
	if out.Len() > 0 {
		t.Errorf("told at once: %q", out.String())
	}
	g.began = g.began.Add(-tellAfter)
	g.at("contents", 10, 20)
	g.at("contents", 11, 20) // too soon after
	g.told = g.told.Add(-tellEvery)
	g.at("sites", 3, 0)
	g.end()
	if want := "\rcontents: 10 of 20\rsites: 3          \r        \r"; out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
	out.Reset()
	quiet := (&Outside{Err: &out}).progress()
	quiet.began = time.Time{}
	quiet.at("contents", 10, 20)
	quiet.end()
	if out.Len() > 0 {
		t.Errorf("told to a program: %q", out.String())
	}
}

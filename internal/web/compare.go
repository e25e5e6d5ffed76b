package web

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	"undersod/core/compare"
	"undersod/internal/answer"
	"undersod/internal/archive"
)

// compareRoutes are what is told of two visits of one site.
func (s *Server) compareRoutes() []route {
	query := []parameter{
		{name: "before", kind: "string", example: "abcdefghijklmnopqrstuvwxyz", required: true, does: "the earlier visit, of the same site"},
		{name: "renamed", kind: "string", example: "D-box=Box;Lid=Tank lid", does: "what something was called before and is called now, as OLD=NEW, joined by semicolons"},
	}
	return []route{
		s.computed("compare", "Compare", "Tells what moved, what grew and what was done since an earlier visit.", query,
			func(ctx context.Context, j answer.Job, a *asked) (any, error) {
				p, err := s.pair(ctx, j, a)
				if err != nil {
					return nil, err
				}
				return s.Answers.Compare(ctx, p)
			}),
		s.drawn("compare.pdf", answer.Type("pdf"), "Draws the sheet with an arrow from where each thing lay that moved since an earlier visit.", query, s.drawCompared("pdf")),
		s.drawn("compare.svg", answer.Type("svg"), "Draws the same as compare.pdf.", query, s.drawCompared("svg")),
	}
}

func (s *Server) drawCompared(format string) func(context.Context, answer.Job, *asked) (answer.File, error) {
	return func(ctx context.Context, j answer.Job, a *asked) (answer.File, error) {
		p, err := s.pair(ctx, j, a)
		if err != nil {
			return answer.File{}, err
		}
		return s.Answers.DrawCompared(ctx, p, answer.Drawing{Format: format})
	}
}

// pair reads the earlier visit. One of another site is not there: two places
// have nothing to be compared by.
func (s *Server) pair(ctx context.Context, later answer.Job, a *asked) (answer.Pair, error) {
	p := answer.Pair{After: later}
	id := archive.ID(a.text("before"))
	if !id.Valid() {
		return p, refusef(http.StatusBadRequest, "query", "Give the ID of a visit of the same site.", "before: %.40q was read, the ID of a visit is expected.", string(id))
	}
	v, text, err := s.Records.Job(ctx, a.actor, id)
	if err != nil {
		return p, fmt.Errorf("the earlier visit: %w", err)
	}
	if v.Site != a.site {
		return p, refusef(http.StatusUnprocessableEntity, "refused", "Give a visit of the same site.", "The earlier visit is of another site.")
	}
	p.Before = s.answerJob(ctx, a.actor, v, text)
	if renamed := a.text("renamed"); renamed != "" {
		p.Renamed, err = compare.Renames(strings.Split(renamed, ";"), badRename)
	}
	return p, err
}

// badRename tells what is wrong with something named as renamed.
func badRename(one string, _ bool) error {
	return refusef(http.StatusBadRequest, "query", "Write it as in renamed=D-box=Box, each name once.", "renamed: %.60q was read, a name before and a name now are expected.", one)
}

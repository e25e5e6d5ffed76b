package web

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"net/http"
	"strconv"
	"strings"
	"time"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/docs"
	"undersod/internal/answer"
	"undersod/internal/archive"
)

// computePatience is how long an answer may be in the making.
const computePatience = time.Minute

// answerRoutes are what is computed of a stored visit.
func (s *Server) answerRoutes() []route {
	rows := []route{
		s.computed("check", "Check", "Tells whether the hole may be filled, what disagrees, and everything judged.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (any, error) { return s.Answers.Check(ctx, j) }),
		s.computed("report", "Report", "Tells what is judged of the visit.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (any, error) { return s.Answers.Report(ctx, j) }),
		s.computed("split", "Split", "Tells how each box shares its flow.",
			[]parameter{{name: "inflow", kind: "string", example: "12 gpm", does: "one more inflow to reckon with"}}, s.split),
		s.computed("setbacks", "Setbacks", "Tells how far every part lies from everything that a rule names.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (any, error) { return s.Answers.Setbacks(ctx, j) }),
		s.computed("checklist", "Checklist", "Tells what the authority wants on the drawing, and what is missing.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (any, error) { return s.Answers.Checklist(ctx, j) }),
		s.computed("fit", "Fit", "Tells where everything fits that the job proposes.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (any, error) { return s.Answers.Fit(ctx, j, nil) }),
		s.computed("cards", "Lids", "Lists the parts that a tie card can be made for.", nil, s.lids),
		s.computed("card", "Card", "Tells how to find one part again.", []parameter{partOf()},
			func(ctx context.Context, j answer.Job, a *asked) (any, error) {
				return s.Answers.Card(ctx, j, site.Name(a.text("part")))
			}),
		{method: "POST", pattern: "/api/v1/visits/{visit}/fit", may: viewers, handle: s.fitProposed, query: []parameter{packOf()},
			takes: words("Proposed", "things to build by name, as under proposed in a job file"),
			does:  "Tells where something fits that the job does not propose. Nothing is stored.", gives: document("Fit", "where each fits")},
		s.drawn("report.pdf", answer.Type("pdf"), "Makes the owner's report.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (answer.File, error) { return s.Answers.Owner(ctx, j) }),
		s.drawn("county.pdf", answer.Type("pdf"), "Makes the packet for the authority.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (answer.File, error) {
				return s.Answers.County(ctx, j)
			}),
		s.drawn("calendar.ics", "text/calendar", "Makes a calendar of what is due.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (answer.File, error) {
				return s.Answers.Calendar(ctx, j)
			}),
	}
	for _, format := range []string{"pdf", "svg", "png", "dxf"} {
		rows = append(rows, s.drawn("drawing."+format, answer.Type(format), "Draws the record drawing to scale.", drawingParameters(), s.drawing(format)))
	}
	for _, format := range []string{"pdf", "svg", "png"} {
		rows = append(rows, s.drawn("card."+format, answer.Type(format), "Draws the tie card of one part.", []parameter{partOf()},
			func(ctx context.Context, j answer.Job, a *asked) (answer.File, error) {
				return s.Answers.CardFile(ctx, j, site.Name(a.text("part")), format)
			}))
	}
	return rows
}

func partOf() parameter {
	return parameter{name: "part", kind: "string", example: "D-box", required: true, does: "the part to find"}
}

func drawingParameters() []parameter {
	return []parameter{
		{name: "paper", kind: "string", example: "tabloid", does: "letter, tabloid, a4 or a3"},
		{name: "scale", kind: "integer", example: 240, does: "1 to this; 240 is 20 feet to the inch"},
		{name: "ties", kind: "boolean", example: true, does: "draw the tie lines"},
		{name: "setbacks", kind: "boolean", example: true, does: "draw the ground that setbacks keep free"},
	}
}

// computed is the row of an answer that is a document.
func (s *Server) computed(name, schema, does string, query []parameter, f func(context.Context, answer.Job, *asked) (any, error)) route {
	return route{method: "GET", pattern: "/api/v1/visits/{visit}/" + name, may: viewers, does: does, query: append(query, packOf()),
		gives: append(document(schema, "the answer, made from the job file as it is now"), reply{304, "", "", "it is what whoever asks has already"}),
		handle: func(w http.ResponseWriter, r *http.Request) error {
			return s.compute(w, r, func(ctx context.Context, j answer.Job, a *asked) error {
				if a.pairs() {
					out, err := f(ctx, j, a)
					if err != nil {
						return err
					}
					return giveJSON(w, http.StatusOK, out)
				}
				text, err := s.Answers.JSON(ctx, j, name+"?"+a.values.Encode(), func(ctx context.Context) (any, error) { return f(ctx, j, a) })
				if err != nil {
					return err
				}
				return give(w, "application/json", text)
			})
		}}
}

// drawn is the row of an answer that is a file.
func (s *Server) drawn(name, kind, does string, query []parameter, f func(context.Context, answer.Job, *asked) (answer.File, error)) route {
	return route{method: "GET", pattern: "/api/v1/visits/{visit}/" + name, may: viewers, does: does, query: append(query, packOf()),
		gives: append(file(kind, "the file, made from the job file as it is now"), reply{304, "", "", "it is what whoever asks has already"}),
		handle: func(w http.ResponseWriter, r *http.Request) error {
			return s.compute(w, r, func(ctx context.Context, j answer.Job, a *asked) error {
				out, err := f(ctx, j, a)
				if err != nil {
					return err
				}
				if out.Ending == ".svg" {
					w.Header().Set("Content-Security-Policy", drawingPolicy)
				}
				w.Header().Set("Content-Disposition", `inline; filename="`+name+`"`)
				return give(w, out.Type, out.Bytes)
			})
		}}
}

// drawingPolicy is what a drawing that is opened by itself may use: the fonts
// and pictures within it, and no script at all.
const drawingPolicy = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; frame-ancestors 'none'; sandbox"

// compute reads the job of a visit and answers, unless whoever asks has the
// answer already: it is made from the revision and from what was asked alone.
func (s *Server) compute(w http.ResponseWriter, r *http.Request, f func(context.Context, answer.Job, *asked) error) error {
	v, j, err := s.jobOf(r)
	if err != nil {
		return err
	}
	a := askedBy(r)
	a.actor, a.site = actorOf(r), v.Site
	j.Pack = a.text("rules")
	if r.Method != http.MethodPost && !a.pairs() && fresh(w, r, s.answerTag(v)) {
		return nil
	}
	ctx, cancel := context.WithTimeout(r.Context(), computePatience)
	defer cancel()
	return f(ctx, j, a)
}

// answerTag is the entity tag of everything computed of a visit by this very
// process: the next one may be of a program that answers better.
func (s *Server) answerTag(v archive.Visit) string {
	return `"` + strconv.FormatInt(int64(v.Revision), 10) + "-" + s.instance + `"`
}

// jobOf reads the job that a visit has, with its pictures.
func (s *Server) jobOf(r *http.Request) (archive.Visit, answer.Job, error) {
	id, err := idOf(r, "visit")
	if err != nil {
		return archive.Visit{}, answer.Job{}, err
	}
	v, text, err := s.Records.Job(r.Context(), actorOf(r), id)
	if err != nil {
		return v, answer.Job{}, err
	}
	return v, s.answerJob(r.Context(), actorOf(r), v, text), nil
}

// answerJob is a visit's job, as answers are made of it.
func (s *Server) answerJob(ctx context.Context, a archive.Actor, v archive.Visit, text []byte) answer.Job {
	var state strings.Builder
	for _, p := range v.Photos {
		state.WriteString(p.Name + " " + string(p.Content) + "\n")
	}
	return answer.Job{Format: v.Format, Bytes: text, Pictures: state.String(), Photos: album{ctx, s.Records, a, v}}
}

// album shows the pictures of a visit as a folder.
type album struct {
	ctx     context.Context
	records archive.Records
	actor   archive.Actor
	visit   archive.Visit
}

// Open opens a picture by the name that the job gives it.
func (a album) Open(name string) (fs.File, error) {
	text, err := a.records.Picture(a.ctx, a.actor, a.visit.ID, name, false)
	if err != nil {
		if errors.Is(err, archive.ErrNotFound) {
			err = fs.ErrNotExist
		}
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return answer.Open(name, text), nil
}

func (s *Server) split(ctx context.Context, j answer.Job, a *asked) (any, error) {
	var inflow unit.Flow
	if text := a.text("inflow"); text != "" {
		f, err := unit.ParseFlow(text)
		if err != nil || f <= 0 {
			return nil, refusef(http.StatusBadRequest, "query", "Write a flow above zero, as in inflow=12%%20gpm.", "inflow: %.40q was read, a flow is expected.", text)
		}
		inflow = f
	}
	return s.Answers.Split(ctx, j, inflow)
}

type lidsShape struct {
	Parts []site.Name `json:"parts"`
}

func (s *Server) lids(ctx context.Context, j answer.Job, _ *asked) (any, error) {
	names, err := s.Answers.Lids(ctx, j)
	return lidsShape{names}, err
}

// fitProposed fits what is sent and stored nowhere.
func (s *Server) fitProposed(w http.ResponseWriter, r *http.Request) error {
	text, err := readBody(w, r)
	if err != nil {
		return err
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return refusef(http.StatusBadRequest, "json", `Send what is proposed, as {"Workshop": {"kind": "structure", "size": ["24'", "16'"]}}.`, "Nothing was sent.")
	}
	return s.compute(w, r, func(ctx context.Context, j answer.Job, _ *asked) error {
		out, err := s.Answers.Fit(ctx, j, text)
		if err != nil {
			return err
		}
		return giveJSON(w, http.StatusOK, out)
	})
}

// drawing draws in a format.
func (s *Server) drawing(format string) func(context.Context, answer.Job, *asked) (answer.File, error) {
	return func(ctx context.Context, j answer.Job, a *asked) (answer.File, error) {
		how := answer.Drawing{Format: format, Paper: a.text("paper"), Scale: int(a.whole("scale")), Ties: a.yes("ties"), Setbacks: a.yes("setbacks")}
		if a.err != nil {
			return answer.File{}, a.err
		}
		return s.Answers.Draw(ctx, j, how)
	}
}

// description gives the description of the interface.
func (s *Server) description(w http.ResponseWriter, r *http.Request) error {
	if fresh(w, r, `"`+string(archive.HashOf(docs.OpenAPI))+`"`) {
		return nil
	}
	return give(w, "application/json", docs.OpenAPI)
}

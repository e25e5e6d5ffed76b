//go:build !fuzzing

package web_test

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/pb33f/libopenapi"
	validator "github.com/pb33f/libopenapi-validator"

	"undersod/docs"
)

// judge is a general validator of what is described.
func judge(t *testing.T) validator.Validator {
	t.Helper()
	document, err := libopenapi.NewDocument(docs.OpenAPI)
	if err != nil {
		t.Fatal(err)
	}
	v, errs := validator.NewValidator(document)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	return v
}

func TestTheDescriptionIsSoundOpenAPI(t *testing.T) {
	if ok, errs := judge(t).ValidateDocument(); !ok {
		for _, e := range errs {
			t.Error(e)
		}
	}
}

func TestTheDescriptionHasEveryRowAndNothingElse(t *testing.T) {
	var described struct {
		Paths map[string]map[string]any
	}
	if err := json.Unmarshal(docs.OpenAPI, &described); err != nil {
		t.Fatal(err)
	}
	var there []string
	for path, methods := range described.Paths {
		for method := range methods {
			there = append(there, strings.ToUpper(method)+" "+path)
		}
	}
	var rows []string
	for _, row := range build(t).server.Rows() {
		if !row.Page {
			rows = append(rows, row.Method+" "+strings.ReplaceAll(row.Pattern, "...}", "}"))
		}
	}
	slices.Sort(there)
	slices.Sort(rows)
	if !slices.Equal(there, rows) {
		t.Errorf("described\n%v\nand routed\n%v", there, rows)
	}
}

// TestWhatIsAnsweredIsWhatIsDescribed sends a fitting request and a wrong one to
// every row, and lets the validator judge request and answer.
func TestWhatIsAnsweredIsWhatIsDescribed(t *testing.T) {
	v := judge(t)
	for _, row := range stocked(t).server.Rows() {
		if row.Page {
			continue
		}
		s := stocked(t)
		for _, who := range []string{"owner", "anyone"} {
			wanted := s.fitting(row, who)
			wanted.path = strings.Replace(wanted.path, "photos/box.jpg", "photos%2Fbox.jpg", 1)
			if strings.HasSuffix(row.Pattern, "/accounts") && row.Method == "POST" {
				wanted.body = map[string]any{"login": "newcomer", "name": "N. Ewcomer", "role": "crew", "password": password}
			}
			if strings.HasSuffix(row.Pattern, "/accounts/{account}") {
				wanted.body = map[string]any{"name": "N. Ewcomer", "role": "office"}
			}
			if strings.HasSuffix(row.Pattern, "/password") {
				wanted.body = map[string]any{"password": "another four words that rhyme not"}
			}
			if strings.HasSuffix(row.Pattern, "/shares") {
				wanted.body = map[string]any{"label": "the owner", "days": 14}
			}
			request := s.request(wanted)
			answer, err := s.at.Client().Do(request)
			if err != nil {
				t.Fatal(err)
			}
			name := row.Method + " " + row.Pattern + " for " + who
			open := slices.Contains(row.Roles, who) && !strings.HasSuffix(row.Pattern, "/plan.geojson") // the demo has no place on earth
			if open != (answer.StatusCode < 400) {
				t.Errorf("%s: status %d", name, answer.StatusCode)
			}
			again := s.request(wanted) // its body was read
			validate := v.ValidateHttpRequestResponse
			if who == "anyone" && !slices.Contains(row.Roles, who) { // a request without a token is not one that is described
				validate = v.ValidateHttpResponse
			}
			if ok, errs := validate(again, answer); !ok {
				for _, e := range errs {
					t.Errorf("%s: %s: %s %v", name, e.Message, e.Reason, e.SchemaValidationErrors)
				}
			}
			answer.Body.Close()
		}
		s.at.Close()
	}
}

func TestTheDescriptionIsGivenToAnybody(t *testing.T) {
	h := build(t)
	g := h.send(sent{method: "GET", path: "/api/v1/openapi.json"})
	if g.want(t, 200); string(g.body) != string(docs.OpenAPI) {
		t.Error("it is not the published one")
	}
	again := h.send(sent{method: "GET", path: "/api/v1/openapi.json", header: map[string]string{"If-None-Match": g.header.Get("ETag")}})
	if again.status != http.StatusNotModified || len(again.body) != 0 {
		t.Errorf("status %d with %d bytes", again.status, len(again.body))
	}
}

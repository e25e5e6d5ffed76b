package web

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"undersod/docs"
	"undersod/docs/schema"
	"undersod/internal/archive"
)

var write = flag.Bool("write", false, "write docs/openapi.json anew from the table of routes")

const descriptionFile = "../../docs/openapi.json"

type object = map[string]any

// TestTheDescriptionIsThatOfTheTable holds docs/openapi.json against the routes
// in both directions. go test ./internal/web -run Description -write makes it
// anew.
func TestTheDescriptionIsThatOfTheTable(t *testing.T) {
	s := &Server{}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(describe(t, s.apiRoutes())); err != nil {
		t.Fatal(err)
	}
	if *write {
		if err := os.WriteFile(descriptionFile, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(b.Bytes(), docs.OpenAPI) {
		t.Error("docs/openapi.json is not what the table of routes says; make it anew with -write and look at the difference")
	}
}

func describe(t *testing.T, rows []route) object {
	t.Helper()
	paths := object{}
	for _, row := range rows {
		path := strings.ReplaceAll(row.pattern, "...}", "}")
		if paths[path] == nil {
			paths[path] = object{}
		}
		paths[path].(object)[strings.ToLower(row.method)] = operation(row)
	}
	return object{
		"openapi": "3.1.0",
		"info": object{"title": "undersod", "version": "1", "license": object{"name": "see docs/licences.txt"},
			"description": "Sites, visits, photos, people and everything computed of a stored visit. Who may ask for what is told by x-who: a role has what the roles after it have. What goes wrong is told as application/problem+json (RFC 9457), with what to do."},
		"servers":  []any{object{"url": "/"}},
		"security": []any{object{"session": []string{}}, object{"bearer": []string{}}, object{"visitor": []string{}}},
		"paths":    paths,
		"components": object{
			"schemas": components(t),
			"securitySchemes": object{
				"session": object{"type": "apiKey", "in": "cookie", "name": "session", "description": "set by signing in; by TLS its name begins with __Host-"},
				"visitor": object{"type": "apiKey", "in": "cookie", "name": "visitor", "description": "of whoever opened a link; by TLS its name begins with __Host-"},
				"bearer":  object{"type": "http", "scheme": "bearer", "description": "the token of a session or of a link"},
			},
		},
	}
}

func operation(row route) object {
	o := object{"summary": row.does, "operationId": operationID(row), "responses": responses(row), "x-who": rolesOf(row.may)}
	if row.may&anyone != 0 {
		o["security"] = []any{}
	}
	if p := parameters(row); len(p) > 0 {
		o["parameters"] = p
	}
	if row.takes.most > 0 {
		content := object{}
		for _, kind := range row.takes.types {
			content[kind] = object{"schema": schemaOf(row.takes.schema, kind)}
		}
		o["requestBody"] = object{"required": true, "description": fmt.Sprintf("%s; at most %d bytes", row.takes.does, row.takes.most), "content": content}
	}
	return o
}

// operationID names an operation: getVisitsVisitCheck.
func operationID(row route) string {
	id := strings.ToLower(row.method)
	for _, part := range strings.FieldsFunc(strings.TrimPrefix(row.pattern, "/api/v1"), func(c rune) bool { return strings.ContainsRune("/{}.", c) }) {
		id += strings.ToUpper(part[:1]) + part[1:]
	}
	return id
}

func parameters(row route) []any {
	var out []any
	for _, part := range strings.Split(row.pattern, "/") {
		name, ok := strings.CutPrefix(part, "{")
		if !ok {
			continue
		}
		name = strings.TrimSuffix(name, "}")
		kind, does := object{"$ref": "#/components/schemas/ID"}, "of the "+name
		switch name {
		case "name...":
			name, kind, does = "name", object{"type": "string", "minLength": 1, "maxLength": archive.LongestName}, "as the job names the photo; a / in it may be sent as it is"
		case "content":
			kind, does = object{"$ref": "#/components/schemas/Hash"}, "of the content"
		}
		out = append(out, object{"name": name, "in": "path", "required": true, "description": does, "schema": kind})
	}
	for _, p := range row.query {
		in := "query"
		if p.header {
			in = "header"
		}
		out = append(out, object{"name": p.name, "in": in, "required": p.required, "description": p.does, "schema": object{"type": p.kind}, "example": p.example})
	}
	return out
}

func responses(row route) object {
	out := object{"default": object{"description": "what went wrong, and what to do",
		"content": object{problemType: object{"schema": object{"$ref": "#/components/schemas/Problem"}}}}}
	for _, g := range row.gives {
		status := strconv.Itoa(g.status)
		r, _ := out[status].(object)
		if r == nil {
			r = object{"description": g.does}
			out[status] = r
		}
		if g.kind != "" {
			content, _ := r["content"].(object)
			if content == nil {
				content = object{}
				r["content"] = content
			}
			content[g.kind] = object{"schema": schemaOf(g.schema, g.kind)}
		}
	}
	return out
}

func schemaOf(name, kind string) object {
	switch {
	case name != "":
		return object{"$ref": "#/components/schemas/" + name}
	case kind == "application/json":
		return object{"type": "object"}
	case strings.HasPrefix(kind, "text/") || kind == "application/yaml":
		return object{"type": "string"}
	}
	return object{} // bytes; OpenAPI 3.1, section 4.8.14.2
}

// components are the shapes of this package, and the published ones of what the
// commands print.
func components(t *testing.T) object {
	t.Helper()
	out := object{
		"ID":   object{"type": "string", "pattern": "^[a-z0-9]{26}$"},
		"Hash": object{"type": "string", "pattern": "^[0-9a-f]{64}$", "description": "SHA-256"},
	}
	for name, shape := range map[string]any{
		"Problem": problem{}, "Health": healthShape{}, "SignIn": signInShape{}, "Who": whoShape{}, "Found": foundShape{}, "Site": siteShape{},
		"Saved": savedShape{}, "History": historyShape{}, "Visit": visitShape{}, "Lids": lidsShape{}, "Accounts": accountsShape{},
		"Account": accountShape{}, "Invite": inviteShape{}, "Alter": alterShape{}, "Password": passwordShape{}, "Shares": sharesShape{},
		"Share": shareShape{}, "NewShare": newShareShape{}, "Events": eventsShape{}, "Imported": Imported{},
	} {
		out[name] = shapeSchema(reflect.TypeOf(shape))
	}
	for _, name := range []string{"check", "report", "split", "setbacks", "checklist", "fit", "card", "compare", "job"} {
		publish(t, out, name)
	}
	out["Proposed"] = object{"type": "object", "minProperties": 1, "additionalProperties": object{"$ref": "#/components/schemas/Job.proposed"}}
	return out
}

// publish takes a published schema over: its definitions become components.
func publish(t *testing.T, into object, name string) {
	t.Helper()
	text, ok := schema.ByName(name)
	if !ok {
		t.Fatalf("no schema %s is published", name)
	}
	title := strings.ToUpper(name[:1]) + name[1:]
	text = bytes.ReplaceAll(text, []byte("#/$defs/"), []byte("#/components/schemas/"+title+"."))
	var whole object
	if err := json.Unmarshal(text, &whole); err != nil {
		t.Fatal(err)
	}
	parts := whole["$defs"].(object)
	delete(whole, "$defs")
	delete(whole, "$schema")
	into[title] = whole
	for part, s := range parts {
		into[title+"."+part] = s
	}
}

// shapeSchema is the schema of a shape.
func shapeSchema(k reflect.Type) object {
	switch k {
	case reflect.TypeFor[archive.ID]():
		return object{"$ref": "#/components/schemas/ID"}
	case reflect.TypeFor[archive.Hash]():
		return object{"$ref": "#/components/schemas/Hash"}
	case reflect.TypeFor[archive.Role]():
		return object{"type": "string", "enum": archive.Roles()}
	case reflect.TypeFor[archive.Deed]():
		return object{"type": "string", "enum": []archive.Deed{archive.Made, archive.Altered, archive.Removed, archive.Recovered, archive.PhotoIn, archive.PhotoOut}}
	}
	switch k.Kind() {
	case reflect.Pointer:
		return shapeSchema(k.Elem())
	case reflect.Slice:
		return object{"type": "array", "items": shapeSchema(k.Elem())}
	case reflect.String:
		return object{"type": "string"}
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.Float64:
		return object{"type": "number"}
	case reflect.Int, reflect.Int64:
		return object{"type": "integer", "minimum": 0}
	case reflect.Struct:
		return structSchema(k)
	}
	panic("no schema for " + k.String())
}

func structSchema(k reflect.Type) object {
	properties, required := object{}, []string{}
	for i := range k.NumField() {
		f := k.Field(i)
		if !f.IsExported() {
			continue
		}
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		properties[name] = shapeSchema(f.Type)
		if !strings.Contains(options, "omitempty") {
			required = append(required, name)
		}
	}
	slices.Sort(required)
	return object{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

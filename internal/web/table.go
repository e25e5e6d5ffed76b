package web

import (
	"slices"

	"undersod/internal/archive"
)

// How large bodies may be.
const (
	mostWords = 64 << 10 // of JSON that a person fills in
	mostJob   = archive.MostJobBytes
	mostPhoto = archive.MostPictureBytes
)

// apiRoutes are the rows of the interface for programs.
func (s *Server) apiRoutes() []route {
	return slices.Concat(s.doorRoutes(), s.siteRoutes(), s.visitRoutes(), s.photoRoutes(), s.answerRoutes(), s.compareRoutes(), s.carryRoutes(), s.peopleRoutes())
}

// Headers that changes take.
func keyed(more ...parameter) []parameter {
	return append(more, parameter{name: "Idempotency-Key", kind: "string", header: true, example: "2f1c8c1e-save-3",
		does: "a text of one's own making; the same request sent again with the same key changes nothing and gets the same answer"})
}

func ifMatch() parameter {
	return parameter{name: "If-Match", kind: "string", header: true, example: `"3"`, does: "the ETag that the thing was read with"}
}

func ifNew() parameter {
	return parameter{name: "If-None-Match", kind: "string", header: true, example: "*", does: "in place of If-Match: a new one is to be made"}
}

// Parameters of lists.
func most() parameter {
	return parameter{name: "most", kind: "integer", example: 50, does: "at most so many; 50 without it, never more than 500"}
}

func before() parameter {
	return parameter{name: "before", kind: "integer", example: 1200, does: "those with a lower number, for the next page"}
}

func packOf() parameter {
	return parameter{name: "rules", kind: "string", example: "washington", does: "the rule pack to judge by; without it the job's choice"}
}

// Answers.
func document(schema, does string) []reply { return []reply{{200, "application/json", schema, does}} }
func created(schema, does string) []reply  { return []reply{{201, "application/json", schema, does}} }
func nothing(does string) []reply          { return []reply{{204, "", "", does}} }
func file(kind, does string) []reply       { return []reply{{200, kind, "", does}} }
func saved() []reply {
	return document("Saved", "what came of it; change is 0 where nothing changed")
}

func words(schema, does string) body {
	return body{types: []string{"application/json"}, schema: schema, most: mostWords, does: does}
}

func jobBody() body {
	return body{types: []string{"application/yaml", "application/json"}, most: mostJob, slow: true, does: "the job file, kept byte for byte"}
}

// doorRoutes are what anybody may ask.
func (s *Server) doorRoutes() []route {
	return []route{
		{method: "GET", pattern: "/api/v1/health", may: everyone, handle: s.health,
			does: "Tells whether the server can do its work.", gives: document("Health", "it can")},
		{method: "GET", pattern: "/api/v1/openapi.json", may: everyone, handle: s.description,
			does: "Gives this description.", gives: document("", "an OpenAPI 3.1 description")},
		{method: "POST", pattern: "/api/v1/session", may: everyone, handle: s.signIn, takes: words("SignIn", "who signs in"),
			does: "Signs in: sets a cookie, or gives a token for the Authorization header where bearer is true.", gives: document("Who", "who is signed in")},
		{method: "GET", pattern: "/api/v1/session", may: viewers, handle: s.whoAmI,
			does: "Tells who asks.", gives: document("Who", "an account, or the link of a visitor")},
		{method: "DELETE", pattern: "/api/v1/session", may: everyone, handle: s.signOut,
			does: "Signs out.", gives: nothing("no session is open any more")},
	}
}

func (s *Server) siteRoutes() []route {
	return []route{
		{method: "GET", pattern: "/api/v1/sites", may: staff, handle: s.findSites,
			does: "Searches for sites, by words, by place, or both.", gives: document("Found", "the sites found"),
			query: []parameter{
				{name: "words", kind: "string", example: "quarry hollow", does: "each must occur as the start of a word: of owner, address, permit, parts, findings, notes"},
				{name: "latitude", kind: "number", example: 44.5, does: "of a place, in degrees; the nearest come first"},
				{name: "longitude", kind: "number", example: -93.1, does: "of a place, in degrees"},
				{name: "within", kind: "number", example: 500, does: "at most so far from the place, in metres"},
				{name: "deleted", kind: "boolean", example: true, does: "those that were removed, in place of those that stand"},
				{name: "skip", kind: "integer", example: 50, does: "leave out so many, for the next page"},
				most(),
			}},
		{method: "GET", pattern: "/api/v1/due", may: staff, handle: s.dueSites,
			does: "Lists the sites where a look or a pumping is due, the earliest first.", gives: document("Found", "the sites"),
			query: []parameter{{name: "until", kind: "string", example: "2027-03-31", does: "up to this day; all without it"}, most()}},
		{method: "GET", pattern: "/api/v1/sites/{site}", may: viewers, handle: s.site,
			does: "Tells a site with its visits.", gives: document("Site", "the site")},
		{method: "DELETE", pattern: "/api/v1/sites/{site}", may: crews, handle: s.removeSite, query: keyed(ifMatch()),
			does: "Removes a site; it can be recovered.", gives: saved()},
		{method: "POST", pattern: "/api/v1/sites/{site}/recover", may: crews, handle: s.recoverSite, query: keyed(),
			does: "Brings a removed site back.", gives: saved()},
		{method: "GET", pattern: "/api/v1/sites/{site}/changes", may: staff, handle: s.changes, query: []parameter{before(), most()},
			does: "Tells the history of a site, the newest change first.", gives: document("History", "the changes")},
	}
}

func (s *Server) visitRoutes() []route {
	ofSite := parameter{name: "site", kind: "string", example: "abcdefghijklmnopqrstuvwxyz", does: "the site of a new visit; one that is not there yet, or none, is made"}
	return []route{
		{method: "POST", pattern: "/api/v1/visits", may: crews, handle: s.newVisit, takes: jobBody(), query: keyed(ofSite),
			does: "Stores a job file as a new visit.", gives: created("Saved", "the visit was made")},
		{method: "GET", pattern: "/api/v1/visits/{visit}", may: viewers, handle: s.visit,
			does: "Tells a visit.", gives: document("Visit", "the visit")},
		{method: "DELETE", pattern: "/api/v1/visits/{visit}", may: crews, handle: s.removeVisit, query: keyed(ifMatch()),
			does: "Removes a visit; it can be recovered.", gives: saved()},
		{method: "POST", pattern: "/api/v1/visits/{visit}/recover", may: crews, handle: s.recoverVisit, query: keyed(),
			does: "Brings a removed visit back.", gives: saved()},
		{method: "GET", pattern: "/api/v1/visits/{visit}/job", may: viewers, handle: s.job,
			does:  "Gives the job file as it was stored.",
			gives: []reply{{200, "application/yaml", "", "the job file"}, {200, "application/json", "", "the job file"}, {304, "", "", "it is what whoever asks has already"}}},
		{method: "PUT", pattern: "/api/v1/visits/{visit}/job", may: crews, handle: s.saveVisit, takes: jobBody(), query: keyed(ofSite, ifMatch(), ifNew()),
			does:  "Stores a job file as the visit of that ID, new or in place of the revision named.",
			gives: append(saved(), created("Saved", "the visit was made")...)},
		{method: "GET", pattern: "/api/v1/visits/{visit}/job/{content}", may: staff, handle: s.oldJob,
			does: "Gives a job file that the visit once had, by the SHA-256 that the history names.", gives: file("application/octet-stream", "the job file")},
	}
}

func (s *Server) photoRoutes() []route {
	picture := []reply{{200, "image/jpeg", "", "the picture"}, {304, "", "", "it is what whoever asks has already"}}
	return []route{
		{method: "GET", pattern: "/api/v1/visits/{visit}/photos/{name...}", may: viewers, handle: s.photo,
			does: "Gives a photo.", gives: picture},
		{method: "GET", pattern: "/api/v1/visits/{visit}/thumbnails/{name...}", may: viewers, handle: s.thumbnail,
			does: "Gives a photo, small.", gives: picture},
		{method: "PUT", pattern: "/api/v1/visits/{visit}/photos/{name...}", may: crews, handle: s.addPhoto, query: keyed(),
			takes: body{types: []string{"image/jpeg", "image/png", "image/gif", "image/webp", "image/tiff", "image/bmp", "application/octet-stream"}, most: mostPhoto, slow: true,
				does: "a picture; it is written anew as a JPEG without what a camera hides in it"},
			does: "Stores a photo under the name that the job gives it; another picture of that name is not replaced.", gives: saved()},
		{method: "DELETE", pattern: "/api/v1/visits/{visit}/photos/{name...}", may: crews, handle: s.removePhoto, query: keyed(),
			does: "Takes a photo away; the history keeps it.", gives: saved()},
		{method: "GET", pattern: "/api/v1/visits/{visit}/photos-at/{content}", may: staff, handle: s.oldPhoto,
			does: "Gives a photo that the visit has or once had, by the SHA-256 that the history names.", gives: picture},
	}
}

func (s *Server) peopleRoutes() []route {
	return []route{
		{method: "GET", pattern: "/api/v1/accounts", may: owner, handle: s.accounts,
			does: "Lists the accounts.", gives: document("Accounts", "the accounts, by login")},
		{method: "POST", pattern: "/api/v1/accounts", may: owner, handle: s.invite, takes: words("Invite", "the new account"), query: keyed(),
			does: "Makes an account.", gives: created("Account", "the account")},
		{method: "PUT", pattern: "/api/v1/accounts/{account}", may: owner, handle: s.alterAccount, takes: words("Alter", "the account as it shall be"), query: keyed(),
			does: "Changes name and role of an account, or disables it.", gives: document("Account", "the account")},
		{method: "PUT", pattern: "/api/v1/accounts/{account}/password", may: staff, handle: s.setPassword, takes: words("Password", "the passwords"), query: keyed(),
			does: "Sets one's own password, or as an owner another's.", gives: nothing("it is set")},
		{method: "GET", pattern: "/api/v1/shares", may: offices, handle: s.shares,
			query: []parameter{{name: "site", kind: "string", example: "abcdefghijklmnopqrstuvwxyz", does: "of this site alone"}},
			does:  "Lists the links, the newest first.", gives: document("Shares", "the links")},
		{method: "POST", pattern: "/api/v1/sites/{site}/shares", may: offices, handle: s.share, takes: words("NewShare", "for whom, and for how long"), query: keyed(),
			does: "Makes a link that shows one site to whoever holds it.", gives: created("Share", "the link; its token is told this once")},
		{method: "DELETE", pattern: "/api/v1/shares/{share}", may: offices, handle: s.revoke, query: keyed(),
			does: "Revokes a link.", gives: nothing("it opens nothing any more")},
		{method: "GET", pattern: "/api/v1/events", may: offices, handle: s.events, query: []parameter{before(), most()},
			does: "Tells the audit list, the newest first.", gives: document("Events", "who did what")},
	}
}

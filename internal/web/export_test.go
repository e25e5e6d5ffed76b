package web

// Row is a row of the table, for tests.
type Row struct {
	Method, Pattern, Does string
	Roles                 []string
	Types                 []string
	Page                  bool
}

// Rows returns the table.
func (s *Server) Rows() []Row {
	var rows []Row
	for _, r := range s.rows {
		rows = append(rows, Row{r.method, r.pattern, r.does, rolesOf(r.may), r.takes.types, r.page})
	}
	return rows
}

// rolesOf names a set of those who may ask.
func rolesOf(w who) []string {
	var names []string
	for i, name := range []string{"owner", "office", "crew", "read-only", "visitor", "anyone"} {
		if w&(1<<i) != 0 {
			names = append(names, name)
		}
	}
	return names
}

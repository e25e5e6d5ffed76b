package sqlite

import (
	"bytes"
	"database/sql/driver"
	"encoding/json"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// field is one column of a row: it gives the value to store and takes the value
// that was stored.
type field interface {
	driver.Valuer
	Scan(any) error
}

// column is a field made from two functions.
type column struct {
	value func() driver.Value
	take  func(any) bool
}

func (c column) Value() (driver.Value, error) { return c.value(), nil }

func (c column) Scan(v any) error {
	if !c.take(v) {
		return archive.Told(archive.ErrDamaged, "a %T was read where something else was written", v)
	}
	return nil
}

func text[T ~string](p *T) field {
	return column{
		func() driver.Value { return string(*p) },
		func(v any) bool { s, ok := v.(string); *p = T(s); return ok },
	}
}

func whole[T ~int | ~int64](p *T) field {
	return column{
		func() driver.Value { return int64(*p) },
		func(v any) bool { n, ok := v.(int64); *p = T(n); return ok },
	}
}

func flag(p *bool) field {
	return column{
		func() driver.Value {
			if *p {
				return int64(1)
			}
			return int64(0)
		},
		func(v any) bool { n, ok := v.(int64); *p = n == 1; return ok },
	}
}

func moment(p *time.Time) field {
	return column{
		func() driver.Value { return p.UnixMilli() },
		func(v any) bool { n, ok := v.(int64); *p = time.UnixMilli(n).UTC(); return ok },
	}
}

// angle is radians, or NULL where there is none.
func angle(p **unit.Angle) field {
	return column{
		func() driver.Value {
			if *p == nil {
				return nil
			}
			return (*p).Radians() + 0 // -0 comes back as 0
		},
		func(v any) bool {
			f, ok := v.(float64)
			if ok {
				a := unit.Angle(f)
				*p = &a
			}
			return ok || v == nil
		},
	}
}

func content(p *[]byte) field {
	return column{
		func() driver.Value { return append([]byte{}, *p...) },
		func(v any) bool { b, ok := v.([]byte); *p = bytes.Clone(b); return ok || v == nil },
	}
}

// entries is the changed entries of a job file, as JSON.
func entries(p *[]archive.Field) field {
	return column{
		func() driver.Value {
			if len(*p) == 0 {
				return ""
			}
			b, _ := json.Marshal(*p) // three texts each: it cannot fail
			return string(b)
		},
		func(v any) bool {
			s, ok := v.(string)
			return ok && (s == "" || json.Unmarshal([]byte(s), p) == nil)
		},
	}
}

func stamp(s *archive.Stamp) []field { return []field{moment(&s.At), text(&s.By)} }

// stampOrNone is two columns that are NULL together.
func stampOrNone(p **archive.Stamp) []field {
	value := func(f func(*archive.Stamp) driver.Value) func() driver.Value {
		return func() driver.Value {
			if *p == nil {
				return nil
			}
			return f(*p)
		}
	}
	return []field{
		column{
			value(func(s *archive.Stamp) driver.Value { return s.At.UnixMilli() }),
			func(v any) bool {
				n, ok := v.(int64)
				if ok {
					*p = &archive.Stamp{At: time.UnixMilli(n).UTC()}
				}
				return ok || v == nil
			},
		},
		column{
			value(func(s *archive.Stamp) driver.Value { return string(s.By) }),
			func(v any) bool {
				s, ok := v.(string)
				if ok && *p != nil {
					(*p).By = archive.ID(s)
				}
				return ok == (*p != nil)
			},
		},
	}
}

func heading(h *archive.Heading) []field {
	return []field{
		text(&h.Name), text(&h.Address), text(&h.County), text(&h.Owner), text(&h.Parcel), text(&h.Permit), text(&h.Authority),
		text(&h.Date), text(&h.By), angle(&h.Latitude), angle(&h.Longitude), text(&h.Fill), whole(&h.Mistakes), whole(&h.Acts),
		text(&h.NextLook), text(&h.NextWhat), text(&h.Words),
	}
}

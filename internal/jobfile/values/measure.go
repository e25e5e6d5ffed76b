package values

import (
	"io/fs"
	"math"
	"strconv"
	"strings"
	"time"

	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// QuantityTo reads a key with one of unit's parsers into to, which is left as
// it is where the key is absent or wrong.
func QuantityTo[T any](r *Reader, f Fields, key, subject, expected, example string, parse func(string) (T, error), to *T) {
	if n := f.Get(key); n != nil {
		if v, ok := Quantity(r, n, key+" of "+subject, expected, example, parse); ok {
			*to = v
		}
	}
}

// FlowOf reads a flow of a key into to, which is left as it is where the key is
// absent or wrong.
func (r *Reader) FlowOf(f Fields, key, subject string, to *unit.Flow) {
	QuantityTo(r, f, key, subject, "a flow", "450 gpd", unit.ParseFlow, to)
}

// VolumeOf reads a volume of a key into to, as FlowOf does.
func (r *Reader) VolumeOf(f Fields, key, subject string, to *unit.Volume) {
	QuantityTo(r, f, key, subject, "a volume", "1,000 gal", unit.ParseVolume, to)
}

// Number reads a plain number; false where there is none.
func (r *Reader) Number(n *tree.Node, subject, expected, example string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(n.Text), 64)
	if n.Form != tree.Scalar || err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		r.Wrong(n, subject, expected, example)
		return 0, false
	}
	return v, true
}

// CountOf reads a whole number of things into to.
func (r *Reader) CountOf(f Fields, key, subject string, to *int) {
	n := f.Get(key)
	if n == nil {
		return
	}
	const most = 1000
	v, err := strconv.Atoi(strings.TrimSpace(n.Text))
	if n.Form != tree.Scalar || err != nil || v < 0 || v > most {
		r.Wrong(n, key+" of "+subject, "a whole number from 0 to 1000", key+": 3")
		return
	}
	*to = v
}

// ShareOf reads a share in per cent into to, as a ratio. The sign must stand:
// without it nobody knows whether 0.4 is 40 % or less than one.
func (r *Reader) ShareOf(f Fields, key, subject, example string, to *float64) {
	n := f.Get(key)
	if n == nil {
		return
	}
	digits, signed := strings.CutSuffix(strings.TrimSpace(n.Text), "%")
	v, err := strconv.ParseFloat(strings.TrimSpace(digits), 64)
	if n.Form != tree.Scalar || !signed || err != nil || !(v >= 0 && v <= 100) {
		r.Wrong(n, key+" of "+subject, "a share from 0% to 100%, with its %", key+": "+example)
		return
	}
	*to = v / 100
}

// PercentOf reads per cents, with or without the sign.
func (r *Reader) PercentOf(f Fields, key, subject string) *float64 {
	n := f.Get(key)
	if n == nil {
		return nil
	}
	plain := *n
	plain.Text = strings.TrimSuffix(strings.TrimSpace(n.Text), "%")
	v, ok := r.Number(&plain, key+" of "+subject, "per cents of the diameter, from 0 to 100", key+": 12")
	if !ok {
		return nil
	}
	return &v
}

// YesOf reads true or false into to.
func (r *Reader) YesOf(f Fields, key, subject string, to *bool) {
	if n := f.Get(key); n != nil {
		if v, ok := r.Yes(n, key+" of "+subject); ok {
			*to = v
		}
	}
}

// WhenOf reads a day, a month or a year into to.
func (r *Reader) WhenOf(f Fields, key, subject string, to *string) {
	n := f.Get(key)
	if n == nil {
		return
	}
	if n.Form == tree.Scalar {
		text := strings.TrimSpace(n.Text)
		for _, layout := range []string{time.DateOnly, "2006-01", "2006"} {
			if _, err := time.Parse(layout, text); err == nil {
				*to = text
				return
			}
		}
	}
	r.Wrong(n, key+" of "+subject, "a day as 2026-05-14, a month as 2026-05, or a year as 1996", key+": 2021-06")
}

// FileName reads the name of a file beside the job; what it holds is looked at
// elsewhere.
func (r *Reader) FileName(n *tree.Node, subject, example string) (string, bool) {
	name, ok := r.Text(n, subject)
	if !ok {
		return "", false
	}
	if !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\:") {
		r.Wrong(n, subject, "a file beside the job file, its folders parted by /, without .. and not starting with /", example)
		return "", false
	}
	return name, true
}

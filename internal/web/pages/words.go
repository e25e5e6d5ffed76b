package pages

import (
	"fmt"
	"math"
	"strings"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// Day writes a date of a job, ISO 8601 to the day, the month or the year, as a
// person says it. What is no such date stays as it is.
func Day(iso string) string {
	for _, form := range [][2]string{{time.DateOnly, "January 2, 2006"}, {"2006-01", "January 2006"}} {
		if t, err := time.Parse(form[0], iso); err == nil {
			return t.Format(form[1])
		}
	}
	return iso
}

// dayOr writes a date, or words where there is none.
func dayOr(iso, none string) string {
	if iso == "" {
		return none
	}
	return Day(iso)
}

// Moment writes a time to the minute.
func Moment(t time.Time) string { return t.UTC().Format("January 2, 2006, 15:04 UTC") }

// Date writes the day of a time.
func Date(t time.Time) string { return t.UTC().Format("January 2, 2006") }

// winds are the eight directions, clockwise from north.
func winds() [8]string {
	return [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
}

// Wind names the direction from one place to another, by the first course of
// the great circle (Sinnott, Virtues of the Haversine, Sky and Telescope 68,
// 1984, gives the sides; the course is the usual four-part formula).
func Wind(fromLatitude, fromLongitude, toLatitude, toLongitude unit.Angle) string {
	p, q := fromLatitude.Radians(), toLatitude.Radians()
	l := (toLongitude - fromLongitude).Radians()
	course := math.Atan2(math.Sin(l)*math.Cos(q), math.Cos(p)*math.Sin(q)-math.Sin(p)*math.Cos(q)*math.Cos(l))
	return winds()[int(math.Round(course/(math.Pi/4))+8)%8]
}

// Far writes how far off something lies: feet and metres when it is near, miles
// and kilometres when it is not.
func Far(d unit.Length) string {
	switch feet, miles := d.Metres()/unit.Foot.Metres(), d.Metres()/(5280*unit.Foot.Metres()); {
	case feet < 30:
		return "here"
	case feet < 1500:
		return fmt.Sprintf("%.0f ft (%.0f m)", math.Round(feet/10)*10, d.Metres())
	case miles < 10:
		return fmt.Sprintf("%.1f mi (%.1f km)", miles, d.Metres()/1000)
	default:
		return fmt.Sprintf("%.0f mi (%.0f km)", miles, d.Metres()/1000)
	}
}

// away writes how far and which way a site lies from the place asked for.
func away(n archive.Near, f archive.FoundSite) string {
	words := Far(f.Distance)
	h := f.Heading
	if words == "here" || h.Latitude == nil || h.Longitude == nil {
		return words
	}
	return words + " " + Wind(n.Latitude, n.Longitude, *h.Latitude, *h.Longitude)
}

// dueWords says how a day stands to today, and its class.
func dueWords(next, today string) (words, class string) {
	on, err := time.Parse(time.DateOnly, next)
	now, wrong := time.Parse(time.DateOnly, today)
	if err != nil || wrong != nil {
		return "", ""
	}
	switch left := on.Sub(now); {
	case left < 0:
		return "was due " + Day(next), "act"
	case left == 0:
		return "due today", "act"
	case left <= 60*24*time.Hour:
		return "due " + Day(next), "watch"
	}
	return "next " + Day(next), "note"
}

// fillClass colours a verdict; its words say the same.
func fillClass(words string) string {
	switch low := strings.ToLower(words); {
	case low == "", strings.HasPrefix(low, "not judged"):
		return "note"
	case strings.HasPrefix(low, "do not"), strings.HasPrefix(low, "nothing buried"):
		return "no"
	case strings.HasPrefix(low, "the readings allow"):
		return "yes"
	}
	return "unsure"
}

// filled leaves out what is empty.
func filled(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if strings.TrimSpace(t) != "" {
			out = append(out, t)
		}
	}
	return out
}

// Names tells who someone is by the ID of their account.
type Names map[archive.ID]string

// Of writes who made a stamp.
func (n Names) Of(s archive.Stamp) string {
	switch name := n[s.By]; {
	case s.By == "":
		return "the program"
	case name == "":
		return "someone whose account is not known here"
	default:
		return name
	}
}

// stampWords writes when and by whom.
func (n Names) stampWords(s archive.Stamp) string { return Moment(s.At) + " by " + n.Of(s) }

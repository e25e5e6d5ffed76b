// Package invented makes sites of places and people that do not exist, as many
// as are wanted and always the same from one seed, to see how an archive does
// when it is large.
package invented

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// Maker makes one site after another. Use New.
type Maker struct {
	r    *rand.Rand
	made int
}

// New returns a maker; the same seed makes the same sites.
func New(seed uint64) *Maker { return &Maker{r: rand.New(rand.NewPCG(seed, 412))} }

var (
	first    = words("Alder Anvil Barrow Bellwether Bracken Bramble Burdock Candle Clover Copper Cricket Dapple Ember Fallow Fennel Flint Garnet Gorse Hazel Heron Juniper Kestrel Kettle Lantern Larch Linnet Marl Meadow Millet Mossy Nettle Oatfield Otter Pebble Plover Quarry Quince Rowan Rush Saddle Sorrel Sparrow Tansy Thistle Thrush Tinder Umber Vetch Willow Yarrow")
	second   = words("Hollow Ridge Bend Run Brook Field Gate Grove Hill Mill Ford Glen Rise View Knoll")
	kind     = words("Lane Road Court Drive Way Trail Loop")
	county   = words("Tamsin Orrel Wexley Brandt Hollin Dunmere Ashlow Perrin")
	surname  = words("Fernleaf Dunmoor Ashgrove Tarnhill Wickwood Oakenby Marlstone Brightwater Coldfield Thornbury Hazelwick Stonecrop Larkrise Applethorn Underbank Millrace Sedgewick Greenhow Peatmoss Winterbourn Rookwood Saltmarsh Holloway Foxglove Barleycorn Damsonby Elderfield Gravelly Harebell Ivyleaf")
	finding  = words("roots,fine roots,root mass,standing water,cracked pipe,broken pipe,joint shifted,soil entering,flattened pipe,box tipped,lid cracked,baffle missing,line end not found,driveway over a line,well near the field")
	part     = words("septic tank,pump tank,distribution box,drop box,line 1,line 2,line 3,line 4,cleanout,lid,reserve area,well,driveway,maple,workshop")
	next     = words("pump the tank,look at the box,look into line 2,level the box,look for roots")
	measurer = words("R. Dunmoor,L. Marlstone,T. Wickwood,S. Larkrise")
)

// words splits at commas where there are any, at spaces otherwise.
func words(list string) []string {
	if strings.Contains(list, ",") {
		return strings.Split(list, ",")
	}
	return strings.Fields(list)
}

func (m *Maker) one(list []string) string { return list[m.r.IntN(len(list))] }

func (m *Maker) some(list []string, most int) string {
	out := make([]string, 1+m.r.IntN(most))
	for i := range out {
		out[i] = m.one(list)
	}
	return strings.Join(out, ", ")
}

// ID returns an ID that no other call returns.
func (m *Maker) ID() archive.ID {
	return archive.NewID(func(b []byte) {
		for i := range b {
			b[i] = byte(m.r.Uint32())
		}
	})
}

// Site returns the next site, revision 1, with every part of its heading. The
// sites lie in villages of about 400, each some kilometres wide.
func (m *Maker) Site() archive.Site {
	latitude, longitude := m.place()
	road := m.one(first) + " " + m.one(second) + " " + m.one(kind)
	address := fmt.Sprintf("%d %s", 1+m.r.IntN(4000), road)
	year := 1968 + m.r.IntN(58)
	looked := time.Date(2016+m.r.IntN(10), time.Month(1+m.r.IntN(12)), 1+m.r.IntN(28), 9, 0, 0, 0, time.UTC)
	region := m.one(county)
	m.made++
	stamp := archive.Stamp{At: looked, By: "crew"}
	return archive.Site{ID: m.ID(), Revision: 1, Created: stamp, Changed: stamp, Heading: archive.Heading{
		Name: address, Address: address, County: region + " County", Owner: string(rune('A'+m.r.IntN(26))) + ". " + m.one(surname),
		Parcel: fmt.Sprintf("%02d-%03d-%02d", m.r.IntN(90), m.r.IntN(1000), m.r.IntN(90)), Permit: fmt.Sprintf("%c-%d-%05d", region[0], year, m.made),
		Authority: region + " Health District", Date: looked.Format(time.DateOnly), By: m.one(measurer),
		Latitude: &latitude, Longitude: &longitude, Fill: "The hole may be filled.", Acts: m.r.IntN(3),
		NextLook: looked.AddDate(1+m.r.IntN(4), 0, 0).Format(time.DateOnly), NextWhat: m.one(next),
		Words: m.some(part, 8) + "; " + m.some(finding, 4),
	}}
}

// place returns a place near the middle of the next village.
func (m *Maker) place() (latitude, longitude unit.Angle) {
	village := rand.New(rand.NewPCG(uint64(m.made/400), 7))
	spread := func(middle, wide float64) unit.Angle {
		near := m.r.NormFloat64() * 0.01 // a degree of latitude is 111 km
		return unit.Angle(middle+village.Float64()*wide+math.Max(-0.04, math.Min(0.04, near))) * unit.Degree
	}
	return spread(43, 3), spread(-95, 4)
}

// Job returns a job file of a site in the manner of a real one, of about so many
// bytes.
func (m *Maker) Job(s archive.Site, bytes int) []byte {
	h := s.Heading
	var b strings.Builder
	fmt.Fprintf(&b, "undersod: 1\nsite:\n  name: %s\n  owner: %s\n  permit: %s\nvisit:\n  date: %s\n  by: %s\nreadings:\n", h.Name, h.Owner, h.Permit, h.Date, h.By)
	for b.Len() < bytes {
		fmt.Fprintf(&b, "  - tie: %d' %d 1/%d\"\n    from: corner %c\n    to: %s\n", m.r.IntN(90), m.r.IntN(12), 2<<m.r.IntN(3), 'A'+rune(m.r.IntN(8)), m.one(part))
	}
	return []byte(b.String())
}

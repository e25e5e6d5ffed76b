package sheet

import (
	"strconv"
	"strings"
)

// keyed is a label that found no room: a number on the drawing, its words in
// the list of the sheet.
type keyed struct {
	number int
	words  string
	shown  bool // whether the number itself found room
}

// placement is where the labels of a drawing stand.
type placement struct {
	labels []*label // those with a place, keys included
	keys   []keyed
}

// keyRadius is the radius of the circle about a key number.
const keyRadius MM = 1.9

// placeLabels labels the figures; what finds no room becomes a number.
func placeLabels(area rect, figures []figure, m *measure) placement {
	p := newPlacer(area, figures)
	var labels, sides, bands []*label
	asked := false
	for i := range figures {
		f := &figures[i]
		asked = asked || f.loose
		switch {
		case f.label == nil || strings.Join(f.label.lines, "") == "":
		case f.look == lookBand:
			bands = append(bands, newLabel(f, f.label, m))
		case f.look == looks && f.outer:
			sides = append(sides, newLabel(f, f.label, m))
		default:
			labels = append(labels, newLabel(f, f.label, m))
		}
	}
	p.place(labels)
	if asked {
		p.insist()
	}
	out := placement{keys: p.keyRest(0, nil, m)}
	for _, l := range append(sides, bands...) { // they take the room that the system leaves
		p.labels = append(p.labels, l)
		p.offer(l)
		p.settle(len(p.labels) - 1)
	}
	out.keys = p.keyRest(len(labels), out.keys, m)
	for _, l := range p.labels {
		if l.chosen >= 0 {
			out.labels = append(out.labels, l)
		}
	}
	return out
}

// keyRest gives a number to every label from one on that has no place.
func (p *placer) keyRest(from int, keys []keyed, m *measure) []keyed {
	for i := from; i < len(p.labels); i++ {
		l := p.labels[i]
		if l.chosen >= 0 {
			continue
		}
		words := l.wish.list()
		l.key = len(keys) + 1
		l.lines = []string{strconv.Itoa(l.key)}
		l.w, l.h = 2*keyRadius, 2*keyRadius
		l.tries = nil
		p.offer(l)
		p.settle(i)
		keys = append(keys, keyed{l.key, words, l.chosen >= 0})
	}
	return keys
}

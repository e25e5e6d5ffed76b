package sheet

// Placed returns the layers of a scene as they stand when it is set into
// another: its top left corner at a place of the other's paper, and everything
// scale times as large, type and strokes included. The layers are furniture
// there, since the other's Mapping says nothing of them. A place or a scale
// that is no number, or a scale not above zero, places nothing.
func Placed(s Scene, at Pos, scale float64) []Layer {
	k := placing{at, MM(scale)}
	if !(scale > 0) || !finite(k.pos(Pos{1, 1})) {
		return nil
	}
	out := make([]Layer, len(s.Layers))
	for i, l := range s.Layers {
		out[i] = Layer{Name: l.Name, Shapes: make([]Shape, len(l.Shapes))}
		for j, shape := range l.Shapes {
			out[i].Shapes[j] = k.shape(shape)
		}
	}
	return out
}

func finite(p Pos) bool {
	return p.X-p.X == 0 && p.Y-p.Y == 0 // false for what is infinite or no number
}

// placing takes places of one paper to another.
type placing struct {
	at    Pos
	scale MM
}

func (k placing) pos(p Pos) Pos { return Pos{k.at.X + p.X*k.scale, k.at.Y + p.Y*k.scale} }

func (k placing) shape(s Shape) Shape {
	switch v := s.(type) {
	case Path:
		return k.path(v)
	case Text:
		v.At, v.Size = k.pos(v.At), v.Size*k.scale
		return v
	case Image:
		v.At, v.Width, v.Height = k.pos(v.At), v.Width*k.scale, v.Height*k.scale
		return v
	}
	return s
}

func (k placing) path(p Path) Path {
	runs := make([]Run, len(p.Runs))
	for i, r := range p.Runs {
		runs[i] = Run{Start: k.pos(r.Start), Closed: r.Closed, Pieces: make([]Piece, len(r.Pieces))}
		for j, q := range r.Pieces {
			q.To, q.Centre = k.pos(q.To), k.pos(q.Centre)
			runs[i].Pieces[j] = q
		}
	}
	p.Runs = runs
	if p.Stroke != nil {
		pen := *p.Stroke
		pen.Width *= k.scale
		pen.Dash = append([]MM(nil), pen.Dash...)
		for i := range pen.Dash {
			pen.Dash[i] *= k.scale
		}
		p.Stroke = &pen
	}
	return p
}

package sheet_test

import "undersod/core/sheet"

// rough measures text by classes of letters, close to a plain sans serif.
type rough struct{}

func (rough) Advance(text string, w sheet.Weight, size sheet.MM) sheet.MM {
	var em float64
	for _, r := range text {
		switch {
		case r == ' ' || r == '\'' || r == '.' || r == ',' || r == 'i' || r == 'l' || r == 'I' || r == '/' || r == ':':
			em += 0.3
		case r == 'm' || r == 'w' || r == 'M' || r == 'W' || r == '%':
			em += 0.87
		case r >= 'A' && r <= 'Z':
			em += 0.7
		default:
			em += 0.56
		}
	}
	if w == sheet.Bold {
		em *= 1.05
	}
	return sheet.MM(em) * size
}

func (rough) Ascent(_ sheet.Weight, size sheet.MM) sheet.MM  { return 0.95 * size }
func (rough) Descent(_ sheet.Weight, size sheet.MM) sheet.MM { return 0.22 * size }

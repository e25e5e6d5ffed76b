package hydraulic

import (
	"errors"
	"fmt"
	"strconv"

	"undersod/core/unit"
)

// The range of what is computed. It holds every box and pipe of the trade by
// far and keeps the numbers clear of overflow.
const (
	smallestBore = unit.Millimetre
	largestBore  = 10 * unit.Metre
	highest      = 1e5 * unit.Metre // of an invert over or under the common level
	largestHead  = 100 * unit.Metre
	largestFlow  = unit.Flow(1000)
	smallest     = unit.Flow(1e-30) // less is no inflow
	mostTurned   = 16               // outlets that a correction is searched for
)

var (
	errFullSection    = errors.New("critical flow has no bound in a full pipe; give a depth below the bore")
	errNoOpening      = errors.New("the box has no outlets; enter at least one, with its invert and its bore")
	errAllClosed      = errors.New("every outlet of the box is closed, so nothing can leave it; open at least one")
	errNothingToShare = errors.New("there is no inflow to share, so no outlet can be set by it; give one, such as 10 gpm")
)

// show prints a length for an error.
func show(l unit.Length) string { return unit.Style{}.Format(l) }

// naming returns how errors call an opening.
func naming(i int, o Opening) string {
	if o.Name == "" {
		return "outlet " + strconv.Itoa(i+1)
	}
	return o.Name
}

func checkBore(who string, bore unit.Length) error {
	if bore >= smallestBore && bore <= largestBore {
		return nil
	}
	return fmt.Errorf("%s: the bore is %s; it must be between 1 mm and 10 m, such as 4\" (inside diameter)", who, show(bore))
}

func checkDepth(bore, depth unit.Length) error {
	if depth >= 0 && depth <= bore {
		return nil
	}
	return fmt.Errorf("the pipe: the depth of water is %s; it must be between 0 and the bore of %s", show(depth), show(bore))
}

func checkHead(head unit.Length) error {
	if head >= -largestHead && head <= largestHead {
		return nil
	}
	return fmt.Errorf("the pipe: the water stands %s over the invert; it must be within 100 m", show(head))
}

func checkInflow(flow unit.Flow) error {
	if flow >= 0 && flow <= largestFlow {
		return nil
	}
	return fmt.Errorf("the inflow is %s; it must be between 0 and 1000 m³/s, such as 10 gpm", unit.Style{}.FormatPumpFlow(flow))
}

// check returns the error of the first wrong opening, or of the list.
func check(openings []Opening) error {
	if len(openings) == 0 {
		return errNoOpening
	}
	open := false
	for i, o := range openings {
		if err := o.check(naming(i, o)); err != nil {
			return err
		}
		open = open || !o.Closed
	}
	if !open {
		return errAllClosed
	}
	return nil
}

// check tests what of an opening counts: a closed one may lack its level and
// bore.
func (o Opening) check(who string) error {
	if !(o.Wanted >= 0 && o.Wanted <= 1e12) {
		return fmt.Errorf("%s: the weight of its wanted share is %g; it must be 0 or more, such as the square feet of trench behind it", who, o.Wanted)
	}
	if o.Closed {
		return nil
	}
	if err := checkBore(who, o.Bore); err != nil {
		return err
	}
	if !(o.Invert >= -highest && o.Invert <= highest) {
		return fmt.Errorf("%s: the height of its invert is %s; it must be a number within 100 km of the common level, such as 1' 2 1/4\"", who, show(o.Invert))
	}
	if !(o.Narrowed >= 0 && o.Narrowed < 1) {
		return fmt.Errorf("%s: the share of its bore that is narrowed is %g; it must be from 0 to less than 1, such as 0.25; say it is closed where nothing passes", who, o.Narrowed)
	}
	return nil
}

func checkWater(inflow unit.Flow, level unit.Length) error {
	if level <= largestHead {
		return nil
	}
	return fmt.Errorf("an inflow of %s would stand over 100 m over the lowest outlet; check it, and the bores", unit.Style{}.FormatPumpFlow(inflow))
}

package absorb

import (
	"fmt"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/unit"
)

// AddedBedrooms words what planned bedrooms change: now and then are the
// answers without and with them, by the same pack.
func AddedBedrooms(now, then Capacity, rooms int, say unit.Style) string {
	more := "With " + english.Count(rooms, "more bedroom") + " "
	byFlow := then.Required.Method != rules.AreaPerBedroom
	if then.Flow.Basis == ByMeter && byFlow {
		return sentences(more+"the flow would grow, and only the measured flow of today is known: what that does to the field cannot be told", tankChange(now, then, say), Decides)
	}
	if byFlow {
		more += flowChange(now, then, say)
	}
	return sentences(more+areaChange(now, then, say), fieldChange(now, then, say), tankChange(now, then, say), Decides)
}

func flowChange(now, then Capacity, say unit.Style) string {
	switch {
	case !then.Flow.Known || !now.Flow.Known:
		return "the design flow is not known; "
	case then.Flow.Daily == now.Flow.Daily:
		return "the design flow stays at " + say.FormatFlow(now.Flow.Daily) + "; "
	}
	return "the design flow goes from " + say.FormatFlow(now.Flow.Daily) + " to " + say.FormatFlow(then.Flow.Daily) + "; "
}

func areaChange(now, then Capacity, say unit.Style) string {
	if !now.Required.Known || !then.Required.Known {
		return "the area required is not known"
	}
	return fmt.Sprintf("the area required goes from %s to %s and %s counts", say.FormatArea(now.Required.Area), say.FormatArea(then.Required.Area), say.FormatArea(then.Present))
}

func fieldChange(now, then Capacity, say unit.Style) string {
	if then.Field == Short && then.Required.Known {
		if now.Field == Short && now.Required.Known {
			return "The field, short by " + say.FormatArea(now.Required.Area-now.Present) + " now, would be short by " + say.FormatArea(then.Required.Area-then.Present)
		}
		return "The field, " + string(now.Field) + " now, would be short by " + say.FormatArea(then.Required.Area-then.Present)
	}
	if then.Field == now.Field {
		return "The field: " + string(now.Field) + ", as now"
	}
	return "The field: " + string(now.Field) + " now, then " + string(then.Field)
}

func tankChange(now, then Capacity, say unit.Style) string {
	switch {
	case then.Tank.Verdict == Short && then.Tank.Required > 0:
		return fmt.Sprintf("The tank would be short: %s is required and it holds %s", say.FormatVolume(then.Tank.Required), say.FormatVolume(then.Tank.Present))
	case then.Tank.Verdict == now.Tank.Verdict:
		return "The tank: " + string(now.Tank.Verdict) + ", as now"
	}
	return "The tank: " + string(now.Tank.Verdict) + " now, then " + string(then.Tank.Verdict)
}

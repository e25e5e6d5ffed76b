package caution

// The sources of the cautions that state a number.
const (
	practice   = "common practice, no source"
	excavation = "29 CFR 1926.652(a)(1), undated, read in a summary"
	spoil      = "29 CFR 1926 Subpart P on excavations, undated, read in a summary"
	egress     = "29 CFR 1926.651(c)(2), undated, read in a contractor's summary; the number of the rule from memory"
	notice     = "utility notice pages of Minnesota, North Carolina, Kansas and Georgia, undated: 48 hours to 3 full working days"
	tolerance  = "utility notice page of East Grand Forks, Minnesota, undated; other places say otherwise"
	sulphide   = "29 CFR 1910.1000 Table Z-2, undated, read in a summary; Pocket Guide to Chemical Hazards 7783-06-4, undated"
	oxygen     = "Washington Administrative Code 296-155-20301, undated"
	confined   = "29 CFR 1910.146, undated, read in a university's summary"
	noEntry    = "tank safety pages of the trade, undated"
	lids       = "Washington State Department of Health, lid safety page, undated"
	openLid    = "Whatcom County, Washington, lid safety page, undated"
	memory     = "from memory"
)

// list returns every caution in the order of the work. Numbers are those of the
// sources named; where a law of another place differs, that law holds.
func list() []Caution {
	return []Caution{
		{Digging, "Call before you dig: 811 in the United States, 2 to 3 working days ahead as the state says. Wait for the marks.", notice},
		{Digging, "Public marks leave out private lines: the well's feed, a yard light, propane, a pump's cable. Ask the owner, and trace them.", memory},
		{Digging, "Within 2 ft of a mark dig by hand only, and further where your state says so. A probe goes through a cable too.", tolerance},
		{Digging, "Push the probe, never drive it. Stop at anything that gives or feels like plastic.", practice},

		{OpenTank, "Never enter a tank, never lean in, never work alone. Kneel back and hold the tool at arm's length.", noEntry},
		{OpenTank, "Hydrogen sulphide: 20 ppm is the limit at work, 100 ppm is immediately dangerous to life, and there the nose goes numb. No smell proves nothing.", sulphide},
		{OpenTank, "Air with less than 19.5 % oxygen is hazardous, and a tank may hold little. Neither eye nor nose can tell.", oxygen},
		{OpenTank, "Someone has fallen in: do not go after them. Call for rescue and keep all others back.", noEntry},
		{OpenTank, "A tank is a confined space: entering it takes a permit, gas tests, an attendant and a rescue crew.", confined},
		{OpenTank, "No flame, no cigarette, no spark near an open lid: the gas burns.", noEntry},
		{OpenTank, "Never leave an open lid, not for a minute. Children and pets come running: set a barrier and keep one person at it.", lids},
		{OpenTank, "Put the lid back with every screw or lock. A cracked or loose lid: thick plywood and barriers until it is replaced.", openLid},
		{OpenTank, "Do not drive or stand on lids, and mind that an old cover or a steel top may break under you.", lids},

		{OpenBox, "Cover an open box when you walk away from it, and before the hole is filled.", practice},
		{OpenBox, "Gas gathers in a box and in the hole round it. Keep your face out, and no flame.", practice},
		{OpenBox, "Gloves on, cuts covered, wash before you eat or drink. What is in the box is sewage.", practice},

		{Trench, "5 ft deep or more: nobody goes in without shoring, a trench box or a sloped bank. Below 5 ft a competent person looks first.", excavation},
		{Trench, "Keep the spoil and the machine at least 2 ft back from the edge.", spoil},
		{Trench, "4 ft deep or more: a ladder within 25 ft of everyone in it.", egress},
		{Trench, "Rain, a wall of old backfill, or a truck close by can bring a shallow trench down too. Stay out when in doubt.", practice},

		{Pump, "Switch the pump and its alarm off at the panel, lock it, and test that it is dead before you touch a wire, a float or the pump.", practice},
		{Pump, "Two circuits often feed one pump tank. Water and live wires kill: no bare hands on cables in a wet tank.", practice},
		{Pump, "A pump tank is a tank: never enter, never lean in, never work alone.", noEntry},
		{Pump, "Close the lid before the power comes back, and see one full cycle from outside.", practice},

		{Camera, "Gloves and eye protection. Wash your hands, and wipe the rod with disinfectant before it goes back in the truck.", practice},
		{Camera, "No eating, drinking or smoking at the work. Ask a doctor about tetanus and hepatitis A.", memory},
		{Camera, "Never push the camera against a jet or a running pump, and keep fingers off a rod that another one pushes.", practice},

		{Well, "Keep hoses, tools and sewage off the well's cap and out of its ring. Nothing that was in a tank goes near it.", practice},
		{Well, "A cracked cap, a loose casing or sewage that surfaces uphill of a well: tell the owner today, and the authority.", practice},
		{Well, "Never rinse a tank or fill a box with a hose from the house without a backflow stop.", practice},
	}
}

// All returns every caution, in the order of the work. The slice is the
// caller's own.
func All() []Caution { return list() }

// For returns the cautions of the places and jobs that are asked for, in the
// order of the work, each once however often it is asked for.
func For(where ...Where) []Caution {
	var out []Caution
	for _, c := range list() {
		for _, w := range where {
			if c.Where == w {
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// Places lists the places and jobs in the order of the work.
func Places() []Where { return []Where{Digging, OpenTank, OpenBox, Trench, Pump, Camera, Well} }

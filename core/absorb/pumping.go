package absorb

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/unit"
)

// The sizes and the persons of the pumping table.
const (
	smallestTank, largestTank = 500, 2500 // gal
	mostPersons               = 10
)

// pumpingSizes are the rows of pumpingTable, in gallons.
var pumpingSizes = [...]float64{500, 750, 900, 1000, 1250, 1500, 1750, 2000, 2250, 2500}

// pumpingTable is years between pumpings by tank size and 1 to 10 persons,
// year-round use, no grinder; 0 where the table has no value. One copy prints
// 30.9 for 2,500 gal and 1 person, the copy by half years and the formula have
// 31.9: 30.9 is taken for a misprint.
var pumpingTable = [len(pumpingSizes)][mostPersons]float64{
	{5.8, 2.6, 1.5, 1.0, 0.7, 0.4, 0.3, 0.2, 0.1, 0},
	{9.1, 4.2, 2.6, 1.8, 1.3, 1.0, 0.7, 0.6, 0.4, 0.3},
	{11.0, 5.2, 3.3, 2.3, 1.7, 1.3, 1.0, 0.8, 0.7, 0.5},
	{12.4, 5.9, 3.7, 2.6, 2.0, 1.5, 1.2, 1.0, 0.8, 0.7},
	{15.6, 7.5, 4.8, 3.4, 2.6, 2.0, 1.7, 1.4, 1.2, 1.0},
	{18.9, 9.1, 5.9, 4.2, 3.3, 2.6, 2.1, 1.8, 1.5, 1.3},
	{22.1, 10.7, 6.9, 5.0, 3.9, 3.1, 2.6, 2.2, 1.9, 1.6},
	{25.4, 12.4, 8.0, 5.9, 4.5, 3.7, 3.1, 2.6, 2.2, 2.0},
	{28.6, 14.0, 9.1, 6.7, 5.2, 4.2, 3.5, 3.0, 2.6, 2.3},
	{31.9, 15.6, 10.2, 7.5, 5.9, 4.8, 4.0, 3.5, 3.0, 2.6},
}

// pumpingSource names the table.
var pumpingSource = rules.Source{
	Title: "Estimating septic tank pumping frequency, Journal of Environmental Engineering 110(1)", Section: "table, pages 283 to 285",
	Year: "1984", Status: rules.Read,
	Note: "the table was read in copies, the citation is from memory; year-round use, no grinder",
}

// grinderLoad is by how much more a kitchen grinder feeds the tank: about 30 %,
// said beside a copy of the table.
const grinderLoad = 1.3

// PumpingYears returns how many years lie between two pumpings of a tank that
// so many persons use all year, without a grinder: the table's own value where
// it has one (printed), and between its sizes
//
//	years = (V - 50 N) / (76.79 N), V in gallons, N persons,
//
// which is fitted to the table here: 50 N is the flow of a day that is kept
// clear and 76.79 gal a year is what one person adds. It gives 94 of the 99
// values back to the printed digit and the other five within 0.1 year; with
// 1,000 gal and 4 persons 2.6 years. It is 0 where no room is left, and ok is
// false outside of the table: below 500 gal, above 2,500 gal, or for no person
// or more than 10.
func PumpingYears(tank unit.Volume, persons int) (years float64, printed, ok bool) {
	gallons := float64(tank / unit.Gallon)
	if !(gallons > smallestTank-0.5 && gallons < largestTank+0.5) || persons < 1 || persons > mostPersons {
		return 0, false, false
	}
	for i, size := range pumpingSizes {
		if math.Abs(gallons-size) < 0.5 && pumpingTable[i][persons-1] > 0 {
			return pumpingTable[i][persons-1], true, true
		}
	}
	n := float64(persons)
	return max((gallons-50*n)/(76.79*n), 0), false, true
}

// judgePumping says how often the tank wants pumping.
func judgePumping(q Question, ask *asked) Pumping {
	p := Pumping{Source: pumpingSource}
	if q.Persons == 0 {
		ask.add(askPersons)
	}
	if q.Tank == 0 || q.Persons == 0 {
		p.Words = "How often to pump is not known: " + lackingForPumping(q) + "."
		return p
	}
	years, printed, ok := PumpingYears(q.Tank, q.Persons)
	who := english.Count(q.Persons, "person") + " and " + q.Say.FormatVolume(q.Tank)
	if !ok {
		p.Words = sentences("The table of pumping intervals covers tanks from " + q.Say.FormatVolume(smallestTank*unit.Gallon) + " to " +
			q.Say.FormatVolume(largestTank*unit.Gallon) + " and 1 to 10 persons, not " + who)
		return p
	}
	p.Known, p.Table, p.Years = true, years, years
	how := "by the table"
	if !printed {
		how = "by the formula that fits the table between its sizes"
	}
	words := "Pump about every " + span(years) + " for " + who + ", " + how
	if years == 0 {
		words = "The tank is too small to say how often to pump it: a day's flow of " + who + " leaves no room for sludge, " + how
	}
	if q.Grinder {
		p.Years = years / grinderLoad
		words += "; a kitchen grinder adds about 30 % to the load, so about every " + span(p.Years)
	}
	p.Words = sentences(words, "Source: "+pumpingSource.Words(), "What is found in the tank decides")
	return p
}

func lackingForPumping(q Question) string {
	switch {
	case q.Tank == 0 && q.Persons == 0:
		return "neither the tank's capacity nor the number of persons is known"
	case q.Tank == 0:
		return "the tank's capacity is not known"
	}
	return "the number of persons is not known"
}

// span prints years, below one as months.
func span(years float64) string {
	if years < 0.95 {
		return fmt.Sprintf("%.0f months", max(years*12, 1))
	}
	return fmt.Sprintf("%.1f years", years)
}

package wind

// sources are the texts of Load.Source for the coefficients of ASCE 7.
type sources struct {
	square, rectangle, polygon, round, pillar, slender string
	signA, signB, signC, open                          string
}

// sourcesOf writes them for an edition. The tables hold the coefficients of 7-16;
// no change of them in 7-22 is known.
func sourcesOf(edition string) *sources {
	return &sources{
		square:    edition + " Fig. 29.4-1, square: face-on and diagonal values, force interpolated by angle",
		rectangle: edition + " Fig. 29.4-1, square of the least width, and the rest of the longer face as a panel (a rule of this project)",
		polygon:   edition + " Fig. 29.4-1, hexagonal or octagonal, on the projected width",
		round:     edition + " Fig. 29.4-1, round, by D sqrt(q) and roughness, never below the force at the change of regime",
		pillar:    edition + " Fig. 29.3-1, flat-faced pillar read as a solid sign of its proportions, which is the larger",
		slender:   edition + " Fig. 29.4-1",
		signA:     edition + " Fig. 29.3-1 case A, q at the top, openings factor, at the centre of the face, raised 0.05 h when it reaches the ground",
		signB:     edition + " Fig. 29.3-1 case B, as case A but 0.2 B off the centre",
		signC:     edition + " Fig. 29.3-1 case C, zones from one edge, (1.8 - s/h), return corner, summed into their resultant",
		open:      edition + " Table 29.4-2, openings of 30 % and more, on the solid area, q at the centre",
	}
}

const sourceAlong = "AS/NZS 1170.2 Appendix B, wind parallel to the face, zones from the windward edge, summed into their resultant"

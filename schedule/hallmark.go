package schedule

import (
	"fmt"

	"dullred/alloys/unit"
)

// exempt is the weight from which an article of one precious metal needs a hallmark in
// the United Kingdom before it is sold as that metal: Hallmarking Act 1973, schedule 1,
// part II, as amended; the weights also in the guidance of British local authorities.
var exempt = map[string]unit.Gram{"silver": 7.78, "gold": 1}

// Hallmark is what the law may ask before a finished piece is sold; empty where the
// metal is not precious or not known. Weight is that of the piece, 0 when it was not
// weighed. It is a reminder, and no advice on the law.
func (s *State) Hallmark() string {
	metal := s.Alloy.Family
	least, precious := exempt[metal]
	if !precious || s.Alloy.Fineness == "" {
		return ""
	}
	const law = "(Hallmarking Act 1973, schedule 1 part II; in Ireland there is no least weight). Other countries differ: check your own assay office."
	weight := s.Weights.Latest()
	switch {
	case weight == 0:
		return fmt.Sprintf("To be sold as %s in the United Kingdom a piece of %v or more needs a hallmark %s This one was not weighed.", metal, least, law)
	case weight < least:
		return fmt.Sprintf("At %v it is under the %v from which %s needs a hallmark to be sold as such in the United Kingdom %s", weight, least, metal, law)
	}
	return fmt.Sprintf("At %v it needs a hallmark to be sold as %s in the United Kingdom, as all of %v or more do %s", weight, metal, least, law)
}

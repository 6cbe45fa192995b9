package schedule

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"dullred/alloys/unit"
	"dullred/schedule/heat"
)

// Jointed is a soldered joint on a piece. The solder is a grade of the table or
// the maker's name; the maker's own solidus and flow point stand beside it when
// they were typed, and then count. A solidus is where a joint lets go; a flow
// point never stands in for it.
type Jointed struct {
	Joint   string       `json:"joint"`             // where: "handle", "rim"
	Solder  string       `json:"solder,omitempty"`  // grade or name
	Solidus unit.Celsius `json:"solidus,omitempty"` // the maker's own; 0 is the table's
	Flow    unit.Celsius `json:"flow,omitempty"`    // the maker's own; 0 is the table's

	Margin *unit.Celsius `json:"margin,omitempty"` // how far below the lowest solidus to stay from now on; nil leaves it
}

// Kind is KindJoint.
func (Jointed) Kind() Kind { return KindJoint }

func (j Jointed) check() error {
	if err := CheckName(j.Joint); err != nil {
		return fmt.Errorf("joint: %w", err)
	}
	if j.Solder == "" && j.Solidus == 0 {
		return errors.New("a joint needs its solder, or the solidus on the maker's sheet")
	}
	if j.Flow != 0 && j.Flow < j.Solidus {
		return fmt.Errorf("a flow point of %v is below the solidus of %v", j.Flow, j.Solidus)
	}
	if j.Margin != nil {
		if err := heat.CheckMargin(*j.Margin); err != nil {
			return err
		}
	}
	return errors.Join(checkMark(j.Solder), warmth(j.Solidus), warmth(j.Flow))
}

// warmth refuses what no solder melts at; 0 is absent.
func warmth(t unit.Celsius) error {
	if t != 0 && !(t >= 100 && t <= 1500) {
		return fmt.Errorf("no solder melts at %v", t)
	}
	return nil
}

func (j Jointed) detail() string {
	text := j.Joint
	if j.Solder != "" {
		text += ", " + j.Solder + " solder"
	}
	if j.Solidus != 0 {
		text += fmt.Sprintf(", solidus %v", j.Solidus)
	}
	return text
}

// joint keeps a joint. One of the same name that is soldered again, or whose figure
// was corrected, keeps the lower solidus: the old solder is still in it. Taking the
// old entry back is how a wrong one goes.
func (s *State) joint(j Jointed) {
	if j.Margin != nil {
		s.Margin = j.Margin
	}
	s.Unsure = slices.DeleteFunc(slices.Clone(s.Unsure), func(text string) bool { return strings.HasPrefix(text, j.Joint+": ") })
	joint, err := heat.JointOf(s.tables(), j.Solder, j.Solidus, j.Flow)
	if err != nil {
		s.Unsure = append(s.Unsure, j.Joint+": "+err.Error())
		return
	}
	joint.Name = j.Joint
	i := slices.IndexFunc(s.Joints, func(o heat.Joint) bool { return o.Name == j.Joint })
	switch {
	case i < 0:
		s.Joints = append(slices.Clip(s.Joints), joint)
	case joint.Solidus < s.Joints[i].Solidus:
		s.Joints = slices.Clone(s.Joints)
		s.Joints[i] = joint
	}
}

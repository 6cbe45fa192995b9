package schedule

import (
	"fmt"
	"slices"

	"dullred/schedule/heat"
)

// Lit says how bright the room is.
type Lit struct {
	Room heat.Light `json:"room"`
}

// Kind is KindLight.
func (Lit) Kind() Kind { return KindLight }

func (l Lit) check() error {
	if !slices.Contains(heat.Lights(), l.Room) {
		return fmt.Errorf("%.60q is not a light", l.Room)
	}
	return nil
}

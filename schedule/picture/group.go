package picture

import (
	"slices"
	"strings"
)

// groups are the zones, those together that have the same story.
func (s Story) groups() (all [][]Zone) {
	for _, z := range s.Zones {
		i := slices.IndexFunc(all, func(g []Zone) bool {
			return slices.Equal(g[0].Steps, z.Steps) && slices.Equal(s.heatRules(g[0].Name), s.heatRules(z.Name))
		})
		if i < 0 {
			all = append(all, []Zone{z})
			continue
		}
		all[i] = append(all[i], z)
	}
	return all
}

// named are the zones of a group, as they are shown.
func named(group []Zone) string {
	var names []string
	for _, z := range group {
		names = append(names, plain(z.Name))
	}
	if len(names) == 1 {
		return "zone " + names[0]
	}
	return "zones " + strings.Join(names, ", ")
}

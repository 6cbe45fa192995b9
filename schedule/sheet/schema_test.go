package sheet_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule/sheet"
)

// node is one schema, with the words that sheet.schema.json uses and no other.
type node struct {
	Schema      string          `json:"$schema"`
	Title       string          `json:"title"`
	Description string          `json:"description"`
	Ref         string          `json:"$ref"`
	Type        string          `json:"type"`
	Format      string          `json:"format"`
	Minimum     *float64        `json:"minimum"`
	Enum        []string        `json:"enum"`
	Items       *node           `json:"items"`
	Properties  map[string]node `json:"properties"`
	Required    []string        `json:"required"`
	Additional  *bool           `json:"additionalProperties"`
	Defs        map[string]node `json:"$defs"`
}

func schema(t require.TestingT) node {
	var root node
	d := json.NewDecoder(strings.NewReader(string(sheet.Schema)))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&root))
	return root
}

// breach says where a value goes against a schema; nil where it does not.
func (root node) breach(n node, v any, at string) error {
	if n.Ref != "" {
		def, ok := root.Defs[strings.TrimPrefix(n.Ref, "#/$defs/")]
		if !ok {
			return fmt.Errorf("%s: no definition %s", at, n.Ref)
		}
		return root.breach(def, v, at)
	}
	switch v := v.(type) {
	case map[string]any:
		return root.object(n, v, at)
	case []any:
		if n.Type != "array" {
			return fmt.Errorf("%s is an array, not %s", at, n.Type)
		}
		for i, one := range v {
			if err := root.breach(*n.Items, one, fmt.Sprintf("%s.%d", at, i)); err != nil {
				return err
			}
		}
		return nil
	}
	return n.scalar(v, at)
}

func (root node) object(n node, v map[string]any, at string) error {
	if n.Type != "object" || n.Additional == nil || *n.Additional {
		return fmt.Errorf("%s is an object, not %s, or takes other keys", at, n.Type)
	}
	for _, key := range n.Required {
		if _, ok := v[key]; !ok {
			return fmt.Errorf("%s.%s is missing", at, key)
		}
	}
	for key, one := range v {
		p, ok := n.Properties[key]
		if !ok {
			return fmt.Errorf("%s.%s is not in the schema", at, key)
		}
		if err := root.breach(p, one, at+"."+key); err != nil {
			return err
		}
	}
	return nil
}

func (n node) scalar(v any, at string) error {
	ok := false
	switch v := v.(type) {
	case string:
		ok = n.Type == "string" && (n.Enum == nil || slices.Contains(n.Enum, v))
		if n.Format == "date-time" {
			_, err := time.Parse(time.RFC3339, v)
			ok = ok && err == nil
		}
	case bool:
		ok = n.Type == "boolean"
	case float64:
		ok = n.Type == "number" || n.Type == "integer" && v == float64(int64(v))
		ok = ok && (n.Minimum == nil || v >= *n.Minimum)
	}
	if !ok {
		return fmt.Errorf("%s is %v, not %s", at, v, n.Type)
	}
	return nil
}

func decoded(t require.TestingT, s sheet.Sheet) (v map[string]any) {
	out, err := s.JSON()
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(out, &v))
	return v
}

func TestJSONIsAsTheSchemaHasIt(t *testing.T) {
	root := schema(t)
	for name, s := range cases() {
		require.NoError(t, root.breach(root, decoded(t, s), "sheet"), name)
	}
	require.NoError(t, root.breach(root, decoded(t, sheet.Build(sheet.Source{})), "sheet"), "a piece without entries")
	rapid.Check(t, func(t *rapid.T) { require.NoError(t, root.breach(root, decoded(t, typed(t)), "sheet")) })
}

// The walk sees what is wrong.
func TestSchemaRefuses(t *testing.T) {
	root := schema(t)
	for reason, spoil := range map[string]func(map[string]any){
		"a key is missing":      func(v map[string]any) { delete(v, "totals") },
		"a key too many":        func(v map[string]any) { v["weight_g"] = 1.0 },
		"a number is text":      func(v map[string]any) { v["calliper_mm"] = "0.05" },
		"a list is null":        func(v map[string]any) { v["heats"] = nil },
		"half a course":         func(v map[string]any) { v["totals"].(map[string]any)["courses"] = 0.5 },
		"courses below nothing": func(v map[string]any) { v["totals"].(map[string]any)["courses"] = -1.0 },
		"no such proof":         func(v map[string]any) { v["heats"].([]any)[0].(map[string]any)["proved"] = "maybe" },
		"no date":               func(v map[string]any) { v["work"].([]any)[0].(map[string]any)["at"] = "yesterday" },
	} {
		v := decoded(t, cases()["eventful"])
		spoil(v)
		require.Error(t, root.breach(root, v, "sheet"), reason)
	}
}

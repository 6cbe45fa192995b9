package sheet_test

import (
	"bytes"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dullred/schedule/sheet"
)

// schema is sheet.Schema as an independent validator of draft 2020-12 has it, which
// holds formats for binding.
func schema(t require.TestingT) *jsonschema.Schema {
	const name = "sheet.schema.json"
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(sheet.Schema))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	c.AssertFormat()
	require.NoError(t, c.AddResource(name, doc))
	compiled, err := c.Compile(name)
	require.NoError(t, err)
	return compiled
}

func decoded(t require.TestingT, s sheet.Sheet) map[string]any {
	out, err := s.JSON()
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(out))
	require.NoError(t, err)
	return v.(map[string]any)
}

// Outside check (reference): santhosh-tekuri/jsonschema: every sheet is as the schema has it.
func TestJSONIsAsTheSchemaHasIt(t *testing.T) {
	compiled := schema(t)
	for name, s := range cases() {
		require.NoError(t, compiled.Validate(decoded(t, s)), name)
	}
	require.NoError(t, compiled.Validate(decoded(t, sheet.Build(sheet.Source{}))), "a piece without entries")
	rapid.Check(t, func(t *rapid.T) { require.NoError(t, compiled.Validate(decoded(t, typed(t)))) })
}

// spoils are ways to break a sheet in JSON, by what is wrong then.
var spoils = map[string]func(map[string]any){
	"a key is missing":        func(v map[string]any) { delete(v, "totals") },
	"a key too many":          func(v map[string]any) { v["nobody's"] = 1.0 },
	"a key too many, deep":    func(v map[string]any) { v["totals"].(map[string]any)["nobody's"] = 1.0 },
	"a number is text":        func(v map[string]any) { v["calliper_mm"] = "0.05" },
	"a list is null":          func(v map[string]any) { v["heats"] = nil },
	"half a course":           func(v map[string]any) { v["totals"].(map[string]any)["courses"] = 0.5 },
	"courses below nothing":   func(v map[string]any) { v["totals"].(map[string]any)["courses"] = -1 },
	"no such proof":           func(v map[string]any) { v["heats"].([]any)[0].(map[string]any)["proved"] = "maybe" },
	"no date":                 func(v map[string]any) { v["work"].([]any)[0].(map[string]any)["at"] = "yesterday" },
	"no such day":             func(v map[string]any) { v["started"] = "2026-02-30T18:00:00Z" },
	"a date without its zone": func(v map[string]any) { v["started"] = "2026-02-03T18:00:00" },
}

// Outside check (reference): santhosh-tekuri/jsonschema: the schema refuses what is spoiled.
func TestSchemaRefuses(t *testing.T) {
	compiled := schema(t)
	for reason, spoil := range spoils {
		v := decoded(t, cases()["eventful"])
		spoil(v)
		require.Error(t, compiled.Validate(v), reason)
	}
}

// Every object of the schema is closed, so that a field without a line in it is refused.
//
// Outside check (reference): santhosh-tekuri/jsonschema: a field without a line in the schema
// is refused.
func TestSchemaIsClosed(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(sheet.Schema))
	require.NoError(t, err)
	require.Greater(t, closed(t, doc), 10)
}

// closed counts the objects of a schema, each of which must be closed.
func closed(t *testing.T, v any) (n int) {
	t.Helper()
	switch v := v.(type) {
	case []any:
		for _, one := range v {
			n += closed(t, one)
		}
	case map[string]any:
		if v["type"] == "object" {
			require.Equal(t, false, v["additionalProperties"], "%v", v)
			n++
		}
		for _, one := range v {
			n += closed(t, one)
		}
	}
	return n
}

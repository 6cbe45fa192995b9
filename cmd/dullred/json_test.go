package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

func jsonCommand(ts *testscript.TestScript, args []string) {
	if len(args) < 3 {
		ts.Fatalf("usage: json FILE PATH CHECK VALUE...")
	}
	ts.Check(jsonCheck(ts.ReadFile(args[0]), args[1], args[2:]))
}

// jsonCheck checks the value at a path such as zones.0.verdict, or . for all:
//
//	is TEXT            a string or true or false, exactly
//	near NUMBER ERROR  a number, within the error
//	length N           elements of an array
//	has REGEXP         an array with an element that matches
//	keys NAMES...      the keys of an object, all of them
//	absent             there is no such value
func jsonCheck(text, path string, check []string) error {
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		return fmt.Errorf("not JSON: %w", err)
	}
	v, found := at(v, path)
	if check[0] == "absent" {
		if found {
			return fmt.Errorf("%s is there: %v", path, v)
		}
		return nil
	}
	if !found {
		return fmt.Errorf("there is no %s", path)
	}
	if err := checkValue(v, check[0], check[1:]); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

// at follows a path of keys and indexes.
func at(v any, path string) (any, bool) {
	if path == "." {
		return v, true
	}
	for step := range strings.SplitSeq(path, ".") {
		switch in := v.(type) {
		case map[string]any:
			next, ok := in[step]
			if !ok {
				return nil, false
			}
			v = next
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(in) {
				return nil, false
			}
			v = in[i]
		default:
			return nil, false
		}
	}
	return v, true
}

func checkValue(v any, check string, args []string) error {
	if err := checkArguments(check, args); err != nil {
		return err
	}
	switch check {
	case "is":
		if got := fmt.Sprint(v); got != args[0] {
			return fmt.Errorf("%q, expected %q", got, args[0])
		}
	case "near":
		return checkNear(v, args)
	case "length":
		if got, ok := v.([]any); !ok || strconv.Itoa(len(got)) != args[0] {
			return fmt.Errorf("%v, expected %s elements", v, args[0])
		}
	case "has":
		return checkHas(v, args[0])
	case "keys":
		object, _ := v.(map[string]any)
		got, want := slices.Sorted(maps.Keys(object)), slices.Sorted(slices.Values(args))
		if !slices.Equal(got, want) {
			return fmt.Errorf("keys %v, expected %v", got, want)
		}
	}
	return nil
}

func checkArguments(check string, args []string) error {
	needed, known := map[string]int{"is": 1, "near": 2, "length": 1, "has": 1, "keys": len(args)}[check]
	if !known || len(args) != needed {
		return fmt.Errorf("%q with %q is not a check", check, args)
	}
	return nil
}

func checkNear(v any, args []string) error {
	want, err1 := strconv.ParseFloat(args[0], 64)
	margin, err2 := strconv.ParseFloat(args[1], 64)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	if got, ok := v.(float64); !ok || math.Abs(got-want) > margin {
		return fmt.Errorf("%v, expected %v within %v", v, want, margin)
	}
	return nil
}

func checkHas(v any, pattern string) error {
	re, err := regexp.Compile(pattern)
	if err != nil {
		return err
	}
	elements, _ := v.([]any)
	if !slices.ContainsFunc(elements, func(e any) bool { return re.MatchString(fmt.Sprint(e)) }) {
		return fmt.Errorf("none of %q matches %q", elements, pattern)
	}
	return nil
}

// The scripts lean on jsonCheck, so it must be able to fail.
func TestJSONCheckFails(t *testing.T) {
	const text = `{"verdict": "carry on", "spent": 0.5, "zones": [{"zone": "tip"}], "why": ["worked: 1"]}`
	cases := []struct {
		name, path string
		check      []string
		passes     bool
		reason     string
	}{
		{"same text", "verdict", []string{"is", "carry on"}, true, "equal"},
		{"other text", "verdict", []string{"is", "carry"}, false, "a part is not the whole"},
		{"index", "zones.0.zone", []string{"is", "tip"}, true, "arrays are followed by number"},
		{"index beyond the end", "zones.1.zone", []string{"is", "tip"}, false, "there is one zone"},
		{"near", "spent", []string{"near", "0.501", "0.01"}, true, "within the error"},
		{"far", "spent", []string{"near", "0.6", "0.01"}, false, "outside the error"},
		{"text is no number", "verdict", []string{"near", "0", "9"}, false, "a string is never near"},
		{"absent", "hardness", []string{"absent"}, true, "no such key"},
		{"not absent", "spent", []string{"absent"}, false, "the key is there"},
		{"not there", "hardness", []string{"is", "1"}, false, "what is missing has no value"},
		{"length", "zones", []string{"length", "1"}, true, "one zone"},
		{"other length", "zones", []string{"length", "2"}, false, "one zone"},
		{"element", "why", []string{"has", "^worked"}, true, "one element matches"},
		{"no element", "why", []string{"has", "limit"}, false, "no element matches"},
		{"all keys", ".", []string{"keys", "why", "zones", "spent", "verdict"}, true, "in any order"},
		{"a key too few", ".", []string{"keys", "zones", "spent", "verdict"}, false, "every key is named"},
		{"no such check", "spent", []string{"about", "0.5"}, false, "a slip in a script is not a pass"},
		{"value forgotten", "spent", []string{"near", "0.5"}, false, "a slip in a script is not a pass"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.NotEmpty(t, c.reason)
			err := jsonCheck(text, c.path, c.check)
			require.Equal(t, c.passes, err == nil, "%s: %v", c.reason, err)
		})
	}
}

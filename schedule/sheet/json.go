package sheet

import (
	"bytes"
	_ "embed"
	"encoding/json"
)

// Schema is the JSON Schema (draft 2020-12) of what JSON writes.
//
//go:embed sheet.schema.json
var Schema []byte

// JSON is the sheet for a machine, as Schema has it. It fails on a year that RFC 3339
// cannot write.
func (s Sheet) JSON() ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out) // markup is escaped
	e.SetIndent("", "  ")
	if err := e.Encode(s); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

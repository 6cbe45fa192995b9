package probe

import (
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
)

// form is the first byte of a trace as text, so that a later form can be told.
const form = 1

// MaxText is how many bytes the text of a trace may have: more than a reading in
// every Tick of MaxLength takes.
const MaxText = 8 << 20

// ErrTrace is the error of every text that is no trace.
var ErrTrace = errors.New("not a trace of readings")

// Encode is the trace as a short text of letters, figures, - and _, which Decode
// reads back to the same trace; "" for one without readings. In it stand, as
// base64 without padding (RFC 4648, for URLs), the byte 1 and for each point two
// varints: the ticks since the point before, doubled, plus 1 where it stands
// apart, and the tenths of a kelvin it is higher, zigzag.
func (t Trace) Encode() string {
	if len(t.knots) == 0 {
		return ""
	}
	code, last := []byte{form}, knot{}
	for _, k := range t.knots {
		step := uint64(k.at-last.at) << 1
		if k.apart {
			step |= 1
		}
		code = binary.AppendUvarint(code, step)
		code = binary.AppendVarint(code, k.temp-last.temp)
		last = k
	}
	return base64.RawURLEncoding.EncodeToString(code)
}

// Decode reads what Encode wrote. It refuses, with ErrTrace, all that Encode
// cannot have written: what it reads is encoded to the same text again.
func Decode(text string) (Trace, error) {
	if text == "" {
		return Trace{}, nil
	}
	if len(text) > MaxText {
		return Trace{}, fmt.Errorf("%w: longer than %d bytes", ErrTrace, MaxText)
	}
	code, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil {
		return Trace{}, fmt.Errorf("%w: %w", ErrTrace, err)
	}
	if len(code) == 0 || code[0] != form {
		return Trace{}, fmt.Errorf("%w: of a form that is not known", ErrTrace)
	}
	t, err := decodeKnots(code[1:])
	if err == nil && t.Encode() != text {
		err = fmt.Errorf("%w: written in another way", ErrTrace)
	}
	if err != nil {
		return Trace{}, err
	}
	return t, nil
}

func decodeKnots(code []byte) (Trace, error) {
	var t Trace
	last := knot{at: -1}
	for len(code) > 0 {
		step, n := binary.Uvarint(code)
		if n <= 0 || step>>1 > uint64(MaxLength/Tick) {
			return t, fmt.Errorf("%w: the moment of point %d", ErrTrace, len(t.knots)+1)
		}
		rise, m := binary.Varint(code[n:])
		if m <= 0 {
			return t, fmt.Errorf("%w: the temperature of point %d", ErrTrace, len(t.knots)+1)
		}
		code = code[n+m:]
		k := knot{at: max(last.at, 0) + int64(step>>1), temp: last.temp + rise, apart: step&1 == 1}
		if err := follows(k, last); err != nil {
			return t, fmt.Errorf("%w: point %d %w", ErrTrace, len(t.knots)+1, err)
		}
		t.knots, last = append(t.knots, k), k
	}
	return t, nil
}

// follows is what is wrong with a knot behind another; the first stands behind
// one before the beginning.
func follows(k, last knot) error {
	switch {
	case k.at <= last.at, k.moment() > MaxLength:
		return errors.New("is not in the order of time")
	case k.celsius() < MinTemp, k.celsius() > MaxTemp:
		return errors.New("is no temperature of a heat")
	case last.at < 0 && !k.apart:
		return errors.New("is joined to nothing")
	}
	return nil
}

package schedule_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dullred/schedule"
)

// FuzzDecode reads rows that no version need have written: none may panic, what
// is read is written the same, and no piece takes a figure from it that is none.
func FuzzDecode(f *testing.F) {
	seed := func(r row) {
		f.Add(r.Kind, r.Body, r.Zones, r.Process, r.Shape, r.Version, r.Count, r.At, r.Thick, r.Width, r.Diameter, r.Ring, r.Length, r.Temp)
	}
	for i, b := range every() {
		seed(encode(f, entryAt(i+1, b, "tip")))
	}
	for _, b := range []schedule.Body{
		schedule.Pass{Process: "bend", Count: 2, Radius: 30}, schedule.Pass{Process: "twist", Count: 1, Turns: 2, Over: 60},
		schedule.Measured{Reading: vessel(1.2, 140)}, schedule.Filed{Reading: wire(3)},
	} {
		seed(encode(f, entryAt(1, b)))
	}
	seed(row{Kind: "pass", Process: "twist", Count: 1000, Version: 1, Body: `{"turns":10000,"over":0.001}`})
	seed(row{Kind: "measured", Version: 1, Ring: 0.001})
	empty := encode(f, entryAt(1, wrought("AG925")))
	empty.Body = strings.Replace(empty.Body, "{", `{"zones":[],`, 1)
	seed(empty)
	seed(row{Kind: "measured", Version: 9, Thick: math.NaN(), Temp: math.Inf(1)})
	f.Fuzz(func(t *testing.T, kind, body, zones, process, shape string, version, count, at int64, thick, width, diameter, ring, length, temp float64) {
		r := encode(t, entryAt(1, schedule.Soft{}))
		r.Kind, r.Body, r.Zones, r.Process, r.Shape = kind, body, zones, process, shape
		r.Version, r.Count, r.At, r.Length, r.Temp = version, count, at, length, temp
		r.Thick, r.Width, r.Diameter, r.Ring = thick, width, diameter, ring
		e, err := schedule.Decode(r)
		if err != nil {
			require.ErrorIs(t, err, schedule.ErrRow)
			return
		}
		requireSame(t, e, r)
		require.NotPanics(t, func() { _ = e.Describe() + e.Handle() })
		requireFinite(t, story{e})
		for _, s := range []schedule.Started{wrought("AG925", "tip", "butt"), hoop(), disc(), cast("SN92")} {
			first := entryAt(0, s)
			first.At = time.Unix(0, 0).UTC()
			requireFinite(t, story{first, e})
		}
	})
}

func hoop() schedule.Started {
	s := wrought("C26000")
	s.Reading = schedule.Reading{Size: ringBand(62, 3, 8)}
	return s
}

func disc() schedule.Started {
	s := wrought("C11000")
	s.Reading = vessel(1.2, 150)
	return s
}

// requireSame insists that an entry is written as it was read. Rows are compared:
// an empty list is none, and a figure that is no number equals nothing, itself
// included, unless it is text.
func requireSame(t *testing.T, e schedule.Entry, from row) {
	if _, unread := e.Body.(schedule.Unknown); unread {
		require.Equal(t, fmt.Sprint(from), fmt.Sprint(encode(t, e)))
		return
	}
	back, err := schedule.Decode(encode(t, e))
	require.NoError(t, err)
	require.Equal(t, encode(t, e), encode(t, back))
}

func requireFinite(t *testing.T, h story) {
	a := h.advice()
	for _, z := range append(a.Zones, a.ZoneAdvice) {
		for _, f := range []float64{z.Spent, float64(z.Worked()), float64(z.Done.Strain), float64(z.Done.Sigma), z.Courses.NextCrosses} {
			require.False(t, math.IsNaN(f) || math.IsInf(f, 0) || f < 0, "%v in %+v", f, z)
		}
		require.LessOrEqual(t, z.Courses.NextCrosses, 1.0)
	}
}

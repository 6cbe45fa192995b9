//go:build system

package heat

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dullred/alloys/unit"
)

// debianPython is Debian's, which python3-scipy belongs to.
const debianPython = "/usr/bin/python3"

// solver steps a heating or cooling through time with SciPy's solve_ivp until it
// reaches its end. It knows the air and the laws by itself: the table, its powers
// and the formulas are written out here once more.
const solver = `
import json, sys, time
import numpy as np
from scipy.integrate import solve_ivp
from scipy.constants import Stefan_Boltzmann as sigma

TABLE = np.array([[303, .0265, 16.2e-6, .71], [350, .0300, 20.92e-6, .70], [367, .0313, 22.8e-6, .697],
                  [400, .0338, 26.4e-6, .69], [600, .0469, 52.69e-6, .685], [800, .0573, 84.93e-6, .709]])
LN = np.log(TABLE)
FACTOR = {shift: (1 + (shift/TABLE[:, 3])**(9/16))**(8/27) for shift in (.559, .492)}

def power(x, column):
    i = min(max(int(np.searchsorted(LN[:, 0], x)), 1), len(LN) - 1)
    slope = (LN[i, column] - LN[i-1, column])/(LN[i, 0] - LN[i-1, 0])
    return np.exp(LN[i-1, column] + slope*(x - LN[i-1, 0]))

def natural(c, t):
    film = (t + c["room"])/2 + 273.15
    x = np.log(film)
    held = min(max(x, LN[0, 0]), LN[-1, 0])
    still, shift = (.825, .492) if c["plate"] else (.60, .559)
    rayleigh = 9.80665/film*abs(t - c["room"])*c["over"]**3/power(x, 2)**2*power(held, 3)
    nusselt = (still + .387*rayleigh**(1/6)/np.interp(held, LN[:, 0], FACTOR[shift]))**2
    return nusselt*power(x, 1)/c["over"]

def rate(c):
    def f(_, y):
        t = y[0]
        q = c["h_flame"]*c["bathed"]*(c["flame"] - t)
        q -= c["emissivity"]*sigma*c["radiating"]*((t + 273.15)**4 - (c["room"] + 273.15)**4)
        if c["airy"]:
            q -= c["airy"]*(c["h"] or natural(c, t))*(t - c["room"])
        return [q/c["capacity"]]
    return f

def solve(c):
    end = lambda _, y: y[0] - c["to"]
    end.terminal = True
    s = solve_ivp(rate(c), (0, 1e7), [c["from"]], events=end, method=c["method"], rtol=c["rtol"], atol=c["rtol"])
    return float(s.t_events[0][0])

out = []
for c in json.load(sys.stdin):
    began = time.perf_counter()
    seconds = [solve(c) for _ in range(c["rounds"])][0]
    out.append({"seconds": seconds, "took": (time.perf_counter() - began)/c["rounds"]})
json.dump(out, sys.stdout)
`

// problem is a way between two temperatures as the solver reads it.
type problem struct {
	From       float64 `json:"from"`
	To         float64 `json:"to"`
	Room       float64 `json:"room"`
	Flame      float64 `json:"flame"`
	HFlame     float64 `json:"h_flame"`
	H          float64 `json:"h"`
	Bathed     float64 `json:"bathed"`
	Radiating  float64 `json:"radiating"`
	Airy       float64 `json:"airy"`
	Emissivity float64 `json:"emissivity"`
	Capacity   float64 `json:"capacity"`
	Over       float64 `json:"over"`
	Plate      bool    `json:"plate"`
	Rtol       float64 `json:"rtol"`
	Method     string  `json:"method"`
	Rounds     int     `json:"rounds"`
}

func coolingProblem(c Cooling, from, to float64) problem {
	a := airOf(c.Body, c.Room, c.H)
	return problem{From: from, To: to, Room: float64(c.Room), H: c.H, Radiating: c.Body.Area, Airy: c.Body.Area,
		Emissivity: c.Emissivity, Capacity: c.Body.capacity(), Over: a.over, Plate: a.shape == plate,
		Rtol: 1e-10, Method: "DOP853", Rounds: 1}
}

func heatingProblem(h Heating, from, to float64) problem {
	p, half := coolingProblem(h.cooling(), from, to), h.Body.Area/2
	p.Flame, p.HFlame, p.Bathed, p.Airy = float64(h.Flame.Temp), h.Flame.H, half, half
	if h.Flame.Faces == 2 {
		p.Bathed, p.Airy = 2*half, 0
	}
	if h.Flame.Brick {
		p.Radiating, p.Airy = half, 0
	}
	return p
}

type solution struct{ Seconds, Took float64 }

func scipy(t testing.TB, problems []problem) []solution {
	t.Helper()
	input, err := json.Marshal(problems)
	require.NoError(t, err)
	cmd := exec.Command(debianPython, "-c", solver)
	cmd.Stdin = strings.NewReader(string(input))
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	require.NoError(t, err, "SciPy is needed, apt-get install python3-scipy: %s", complaint.String())
	var all []solution
	require.NoError(t, json.Unmarshal(out, &all))
	require.Len(t, all, len(problems))
	return all
}

// Reference: SciPy solve_ivp, 1.10 in Debian 12, DOP853 with a tolerance of 1e-10,
// and its CODATA 2018 constant of Stefan and Boltzmann.
//
// Outside check (reference): SciPy, solve_ivp (DOP853, tolerance 1e-10): five coolings and
// five heats of strip, wire and plate, by radiation, natural convection and a flame, within
// 1e-5 of the time. The solver has the laws and the table of air written out once more, so it
// checks the integral and not the laws.
func TestSystemSciPy(t *testing.T) {
	wire, err := BodyOf(brassA1, unit.Size{Shape: unit.Round, Diameter: 2}, 60)
	require.NoError(t, err)
	s := strip(t)
	black := Cooling{Body: s, Emissivity: 0.6, Room: 20}
	flame := func(faces int, brick bool) Heating {
		h := benchHeating(s)
		h.Flame.Faces, h.Flame.Brick = faces, brick
		return h
	}
	var names []string
	var ours []float64
	var problems []problem
	cool := func(name string, c Cooling, from, to float64) {
		names, ours, problems = append(names, name), append(ours, taken(c, from, to)), append(problems, coolingProblem(c, from, to))
	}
	heat := func(name string, h Heating, from, to float64) {
		names, ours, problems = append(names, name), append(ours, taken(h, from, to)), append(problems, heatingProblem(h, from, to))
	}
	cool("black strip", black, 650, 48)
	cool("clean silver", Cooling{Body: plateOf(silverA1, 3), Emissivity: 0.03, Room: 20}, 600, 48)
	cool("wire beyond the table of air", Cooling{Body: wire, Emissivity: 0.5, Room: 5}, 900, 30)
	cool("fixed coefficient", Cooling{Body: s, Emissivity: 0.6, Room: 20, H: 10}, 600, 60)
	cool("only just above the room", black, 600, 21)
	heat("one face", flame(1, false), 20, 600)
	heat("on brick", flame(1, true), 20, 650)
	heat("both faces", flame(2, false), 20, 700)
	heat("near its rest", flame(1, false), 20, float64(flame(1, false).Equilibrium())-5)
	heat("from below the room", flame(1, false), -15, 600)
	for i, theirs := range scipy(t, problems) {
		t.Run(names[i], func(t *testing.T) {
			require.InEpsilon(t, theirs.Seconds, ours[i], 1e-5)
			t.Logf("%.6f s here, %.6f s by SciPy", ours[i], theirs.Seconds)
		})
	}
}

// BenchmarkSystemSciPy is one heat and one cooling here, to a relative 1e-8, and in
// solve_ivp at rtol and atol 1e-8 with its default method, RK45, timed inside
// Python without its start.
func BenchmarkSystemSciPy(b *testing.B) {
	body := strip(b)
	h, c := benchHeating(body), Cooling{Body: body, Emissivity: 0.6, Room: 20}
	problems := []problem{heatingProblem(h, 20, 600), coolingProblem(c, 600, float64(SafeTouch))}
	theirs := 0.0
	for i := range problems {
		problems[i].Rtol, problems[i].Method, problems[i].Rounds = 1e-8, "RK45", 5
	}
	for _, s := range scipy(b, problems) {
		theirs += s.Took
	}
	for b.Loop() {
		taken(h, 20, 600)
		taken(c, 600, float64(SafeTouch))
	}
	ours := b.Elapsed().Seconds() / float64(b.N)
	b.ReportMetric(theirs*1e6, "scipy-µs")
	b.ReportMetric(theirs/ours, "times-faster")
}

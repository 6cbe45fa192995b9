package heat

import (
	"math"

	"dullred/alloys/unit"
)

// The exact constants of CODATA 2018, and what follows from them.
const (
	planck    = 6.62607015e-34 // h, J s
	lightRate = 299792458      // c, m/s
	boltzmann = 1.380649e-23   // k, J/K

	// FirstRadiation is c1L = 2hc² in W m²/sr, the first radiation constant of
	// spectral radiance.
	FirstRadiation = 2 * planck * lightRate * lightRate
	// SecondRadiation is c2 = hc/k in m K.
	SecondRadiation = planck * lightRate / boltzmann
	// StefanBoltzmann is σ = 2π⁵k⁴/(15h³c²) in W/m²K⁴.
	StefanBoltzmann = 2 * math.Pi * math.Pi * math.Pi * math.Pi * math.Pi * boltzmann * boltzmann * boltzmann * boltzmann /
		(15 * planck * planck * planck * lightRate * lightRate)
	// Wien is b in m K: a perfect radiator is strongest at the wavelength b/T. The
	// divisor is the root of x = 5(1 - exp(-x)).
	Wien = SecondRadiation / 4.965114231744276303698759
)

// Radiance is the spectral radiance of a perfect radiator by Planck's law, in
// W/m²sr for each metre of wavelength, at a wavelength in metres. It is 0 at
// absolute zero and wherever it is too small for a number.
func Radiance(lambda float64, t unit.Kelvin) float64 {
	if !(lambda > 0) || !(t > 0) {
		return 0
	}
	return FirstRadiation / math.Pow(lambda, 5) / math.Expm1(SecondRadiation/(lambda*float64(t)))
}

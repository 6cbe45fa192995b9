package heat

import "math"

// The exact constants of CODATA 2018, and what follows from them.
const (
	planck    = 6.62607015e-34 // h, J s
	lightRate = 299792458      // c, m/s
	boltzmann = 1.380649e-23   // k, J/K

	// firstRadiation is c1L = 2hc² in W m²/sr, the first radiation constant of
	// spectral radiance.
	firstRadiation = 2 * planck * lightRate * lightRate
	// secondRadiation is c2 = hc/k in m K.
	secondRadiation = planck * lightRate / boltzmann
	// stefanBoltzmann is σ = 2π⁵k⁴/(15h³c²) in W/m²K⁴.
	stefanBoltzmann = 2 * math.Pi * math.Pi * math.Pi * math.Pi * math.Pi * boltzmann * boltzmann * boltzmann * boltzmann /
		(15 * planck * planck * planck * lightRate * lightRate)
)

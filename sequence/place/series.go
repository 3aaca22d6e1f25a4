package place

import "math"

// The integrals along a geodesic as Fourier series in the arc length σ on the
// auxiliary sphere, with coefficients that are polynomials in ε to order 6
// (C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87:43–55, 2013).
// On WGS84 ε stays below 0.0017 and what is left out far below a nanometre.

// expansion is ε of eq. 16 for a geodesic with k² = e′² cos²α₀ (eq. 9),
// written so that a small k² loses no digits.
func expansion(k2 float64) float64 {
	return k2 / (2*(1+math.Sqrt(1+k2)) + k2)
}

// sines is a series Σ c[l−1] sin 2lσ.
type sines [6]float64

// at sums the series by Clenshaw's recurrence (eq. 59).
func (c *sines) at(sigma turn) float64 {
	x := 2 * (sigma.cos - sigma.sin) * (sigma.cos + sigma.sin) // 2 cos 2σ
	b6 := c[5]
	b5 := c[4] + x*b6
	b4 := c[3] + x*b5 - b6
	b3 := c[2] + x*b4 - b5
	b2 := c[1] + x*b3 - b4
	b1 := c[0] + x*b2 - b3
	return 2 * sigma.sin * sigma.cos * b1
}

// lengthSeries gives A₁ (eq. 17) and C₁ (eq. 18): distance along the geodesic
// is b A₁ (σ + Σ C₁ sin 2lσ) (eqs. 7 and 15).
func lengthSeries(eps float64) (scale float64, c sines) {
	e2 := eps * eps
	scale = (1 + e2*(1./4+e2*(1./64+e2/256))) / (1 - eps)
	p := eps
	c[0] = p * (-1./2 + e2*(3./16-e2/32))
	p *= eps
	c[1] = p * (-1./16 + e2*(1./32-e2*(9./2048)))
	p *= eps
	c[2] = p * (-1./48 + e2*(3./256))
	p *= eps
	c[3] = p * (-5./512 + e2*(3./512))
	p *= eps
	c[4] = p * (-7. / 1280)
	p *= eps
	c[5] = p * (-7. / 2048)
	return scale, c
}

// longitudeScale is A₃ (eq. 24) for WGS84's n.
func longitudeScale(eps float64) float64 {
	const n = thirdFlat
	return 1 - eps*((1-n)/2+
		eps*((1./4+n/8-3*n*n/8)+
			eps*((1./16+3*n/16+n*n/16)+
				eps*((3./64+n/32)+
					eps*(3./128)))))
}

// longitudeSeries gives A₃ and C₃ (eqs. 24 and 25): on the ellipsoid the
// longitude lags behind the one on the auxiliary sphere by
// f sin α₀ A₃ (σ + Σ C₃ sin 2lσ) (eqs. 8 and 23).
func longitudeSeries(eps float64) (scale float64, c sines) {
	const n = thirdFlat
	p := eps
	c[0] = p * ((1-n)/4 + eps*((1-n*n)/8+eps*((3+3*n-n*n)/64+eps*((5+2*n)/128+eps*(3./128)))))
	p *= eps
	c[1] = p * ((2-3*n+n*n)/32 + eps*((3-2*n-3*n*n)/64+eps*((3+n)/128+eps*(5./256))))
	p *= eps
	c[2] = p * ((5-9*n+5*n*n)/192 + eps*((9-10*n)/384+eps*(7./512)))
	p *= eps
	c[3] = p * ((7-14*n)/512 + eps*(7./512))
	p *= eps
	c[4] = p * (21. / 2560)
	return longitudeScale(eps), c
}

// lengthDeficit is J(σ₂) − J(σ₁) with J = I₁ − I₂ (eq. 40), the part of the reduced length that
// grows with arc. It only steers Newton's method, so terms to ε² suffice: they
// follow from eqs. 17, 18, 42 and 43 and leave out less than 1e−8.
func lengthDeficit(eps, sigma12 float64, sigma1, sigma2 turn) float64 {
	s1, c1 := 2*sigma1.sin*sigma1.cos, (sigma1.cos-sigma1.sin)*(sigma1.cos+sigma1.sin)
	s2, c2 := 2*sigma2.sin*sigma2.cos, (sigma2.cos-sigma2.sin)*(sigma2.cos+sigma2.sin)
	return eps * ((2+eps)*sigma12 - (s2 - s1) - eps/2*(s2*c2-s1*c1))
}

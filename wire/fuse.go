package wire

import "math"

// fuseRatings are the standard ratings of blade and glass fuses for cars, A
// [common practice; blade ratings 3 to 40 as in ISO 8820-3, from memory].
var fuseRatings = [...]float64{1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40}

// fuseMargin is how much larger than the continuous current a fuse is rated,
// so that it does not tire [common practice].
const fuseMargin = 1.25

// Fuse returns the smallest standard rating in amperes (1, 2, 3, 5, 7.5, 10,
// 15, 20, 25, 30, 40) that is at least 1.25 times continuousA and not above
// wireAmpacityA, what the thinnest wire behind the fuse carries (see
// [Ampacity], less for a bundle). The rating is for air of about 25 °C; in a
// hot engine bay a fuse carries some 10 to 20 % less [from memory], which the
// margin covers once only. Motors and cold lamps draw several times their
// running current for a moment; slow fuses or a larger rating, still within
// the wire's, are usual for them.
//
// Errors: an [InputError] (ErrInput) for a figure that cannot be; a
// [NoFuseError] (ErrNoFuse) when the load is too large or the wire too thin.
func Fuse(continuousA, wireAmpacityA float64) (ratingA float64, err error) {
	if !(continuousA >= 0) || math.IsInf(continuousA, 0) {
		return 0, &InputError{"continuous current", continuousA, "zero or more amperes are wanted"}
	}
	if !(wireAmpacityA >= 0) {
		return 0, &InputError{"ampacity of the wire", wireAmpacityA, "zero or more amperes are wanted"}
	}
	need := fuseMargin * continuousA
	for _, r := range fuseRatings {
		if r < need {
			continue
		}
		if r > wireAmpacityA {
			return 0, &NoFuseError{NeedA: need, RatingA: r, CarriesA: wireAmpacityA}
		}
		return r, nil
	}
	return 0, &NoFuseError{NeedA: need, CarriesA: wireAmpacityA}
}

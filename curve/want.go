package curve

// Want is the same car held against other wanted points, of no more than so
// many mechanisms: what a person tries out by hand is answered at once, since
// nothing that hangs on readings or spreads is worked out anew. The curve
// given is left as it is.
func (v *Curve) Want(points []Point, draws int) (*Curve, error) {
	w := *v
	w.Wanted, w.Builds = nil, nil
	w.Draws = min(v.Draws, draws)
	w.wanted(wantedOf(v.Car, points), v.pool[:min(len(v.pool), draws)])
	err := w.builds(v.mid)
	return &w, err
}

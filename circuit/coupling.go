package circuit

import (
	"fmt"
	"math"
)

// SetCoupling changes the coefficient of coupling of two inductors that were
// coupled when the network was built; -1 < k < 1. Anything else is refused
// with an ElementError and nothing changes. Whether all couplings together
// can be is found out when the network is solved in time.
func (s *Solver) SetCoupling(l1, l2 ElemID, k float64) error {
	for i := range s.couplings {
		c := &s.couplings[i]
		if c.l1 == l1 && c.l2 == l2 || c.l1 == l2 && c.l2 == l1 {
			return s.couple(i, k)
		}
	}
	return &ElementError{Element: s.nameOf(l1), What: fmt.Sprintf("was not coupled to %q when the network was built", s.nameOf(l2))}
}

// couple changes the coefficient of a coupling.
func (s *Solver) couple(i int, k float64) error {
	c := &s.couplings[i]
	if !(math.Abs(k) < 1) {
		return &ElementError{Element: c.name, What: fmt.Sprintf("coupling is %g; -1 < k < 1 is accepted", k)}
	}
	if c.k != k {
		c.k = k
		s.touch(c.l1, Coupling)
	}
	return nil
}

// onlyCoupling returns the coupling an inductor takes part in, when there is
// one and no more.
func (s *Solver) onlyCoupling(l ElemID) (int, error) {
	found := -1
	for i := range s.couplings {
		if c := &s.couplings[i]; c.l1 == l || c.l2 == l {
			if found >= 0 {
				return -1, &ElementError{Element: s.nameOf(l), What: "is coupled to more than one inductor; name the pair by one coupled to no other, or use SetCoupling"}
			}
			found = i
		}
	}
	if found < 0 {
		return -1, &ElementError{Element: s.nameOf(l), What: "is coupled to nothing"}
	}
	return found, nil
}

// nameOf returns the name of an element, or its number when there is none.
func (s *Solver) nameOf(e ElemID) string {
	if e < 0 || int(e) >= len(s.elems) {
		return fmt.Sprintf("element %d", int(e))
	}
	return s.elems[e].name
}

// checkRef says what is wrong with a reference to a figure.
func (s *Solver) checkRef(q ParamRef) error {
	switch {
	case q.Elem < 0 || int(q.Elem) >= len(s.elems):
		return &ElementError{Element: s.nameOf(q.Elem), What: fmt.Sprintf("is not of this network; its %d elements are numbered from 0", len(s.elems))}
	case q.Param == Coupling:
		_, err := s.onlyCoupling(q.Elem)
		return err
	case slot(s.elems[q.Elem].kind, q.Param) < 0:
		return &ElementError{Element: s.nameOf(q.Elem), What: fmt.Sprintf("a %s has no %s", s.elems[q.Elem].kind, q.Param)}
	}
	return nil
}

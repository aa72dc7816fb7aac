package gas

import (
	"errors"
	"fmt"
)

// ErrField is matched, with errors.Is, by every error of this package.
var ErrField = errors.New("figure out of range")

// FieldError is a field of a struct that cannot be.
type FieldError struct {
	Of    string  // the struct, in words: "plug"
	Field string  // the field's name: "GapM"
	Got   float64 // its value
	Want  string  // what would be accepted
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("%s: %s %g: %s is wanted", e.Of, e.Field, e.Got, e.Want)
}

// Is reports true for ErrField.
func (e *FieldError) Is(target error) bool { return target == ErrField }

// field is one check of a Validate. ok is written so that NaN fails it.
type field struct {
	name string
	got  float64
	ok   bool
	want string
}

// firstBad returns a FieldError for the first field that is not ok, or nil.
func firstBad(of string, fields ...field) error {
	for _, f := range fields {
		if !f.ok {
			return &FieldError{Of: of, Field: f.name, Got: f.got, Want: f.want}
		}
	}
	return nil
}

func between(low, x, high float64) bool { return low <= x && x <= high }

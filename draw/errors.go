package draw

// SpecError says what is wrong with a spec, where, and what would do.
type SpecError struct {
	Where string // "parts[3] (ballast)"
	What  string
}

func (e *SpecError) Error() string { return "draw: " + e.Where + ": " + e.What }

package fault

// Context is what is known of a car's story before anything is measured; join
// several with |.
type Context uint8

const (
	JustConverted Context = 1 << iota // within some hundred miles of a conversion
	LongUntouched                     // nobody has looked at points and weights for years
	QuitsHot                          // fine cold, quits hot
	SwitchWork                        // after work on ignition switch or starter
	Stored                            // just out of long storage
)

// factors are by how much a story makes a fault likelier [estimate].
var factors = [...]struct {
	of     Context
	times  float64
	others float64 // what those that it does not make likelier are multiplied with
}{
	{JustConverted, 3.5, 1},
	{LongUntouched, 2, 1},
	{QuitsHot, 1, 0.1},
	{SwitchWork, 5, 1},
	{Stored, 3, 1},
}

// PriorIn is the fault's prior with the car's story counted in, cases per 100
// before anybody makes them add up again. All factors are estimates.
func (f *Fault) PriorIn(story Context) float64 {
	p := f.Prior
	for _, x := range factors {
		switch {
		case story&x.of == 0:
		case f.Likelier&x.of != 0:
			p *= x.times
		default:
			p *= x.others
		}
	}
	return p
}

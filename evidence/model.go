package evidence

// A Model is everything the diagnosis knows before the first reading.
type Model struct {
	Channels   []Channel
	Hypotheses []Hypothesis
	Remedies   []Remedy // every remedy a hypothesis names

	// Healthy is the ID of the hypothesis that nothing the model knows is
	// wrong. It has no remedy and no members.
	Healthy string
	// ElsewhereMinutes is what it costs to look for the complaint elsewhere
	// once the car is taken for healthy; 0 is 60.
	ElsewhereMinutes float64
	Unknown          Unknown

	// Common, when given, are draws of the healthy car, many more than each
	// hypothesis has: draw k of a hypothesis is car k of Common with its faults.
	// What differs from car to car is then learned from Common, and draws only say
	// what faults do.
	Common [][]float64

	// StudentDF makes instrument errors follow Student's t with so many degrees
	// of freedom, at least 2, with the same 95 % half-width; 0 is Gaussian.
	StudentDF float64
}

// A Channel is one reading that could be taken: a figure, or a yes or no.
type Channel struct {
	ID    string
	YesNo bool

	// Abs and Rel make the 95 % half-width of a figure y read with the usual
	// instrument: Abs + Rel·|y|. Abs in the unit of the figure,
	// 1e-100 to 1e100.
	Abs, Rel float64
	// Low and High are a stated wide range of figures: half of what nobody
	// expected falls between them. Predictions further out than once more their
	// distance are taken as there.
	Low, High float64

	Minutes      float64 // for the reading itself
	Setup        string  // what has to be set up for it; "" is nothing
	SetupMinutes float64 // to get there from another set-up

	// SlipProb is the chance that what is written down is not what was to be
	// read; 0 is [DefaultSlip], else above 0 and at most 0.5.
	SlipProb float64
	// SlipFactors are the factors by which a slip of pen, unit or sign changes a
	// figure, 1e-12 to 1e12 of either sign and not 1; nil is [DefaultFactors]. The
	// rest of the slips is a probe in the wrong place, which may show anything.
	SlipFactors []float64
}

// A Hypothesis is one state the car may be in.
type Hypothesis struct {
	ID string
	// Members are the IDs of the single hypotheses that are true at once; nil
	// for a single one and for the healthy car.
	Members []string
	// Remedy is what mends a single hypothesis. One with members needs the
	// remedies of all of them and leaves this empty.
	Remedy string
	// LogPrior is the natural logarithm of its prior weight. Weights need not sum to 1.
	LogPrior float64
	// Draws are the predictions, Draws[k][c] for drawn car k and channel c: the
	// figure, or the probability of a yes. NaN: this reading cannot be had on
	// that car. Draw k of every hypothesis is to be the same car but for its
	// faults, and a fault is to be equally severe in draw k of a single
	// hypothesis and of a pair.
	Draws [][]float64
	// LogWeights are the logarithms of the draws' weights where some were drawn
	// more often than the hypothesis has them, to see more there: chance of the
	// draw over the chance with which it was drawn. They need not sum to 1; nil is
	// all alike.
	LogWeights []float64
	// Cars are the base cars of the draws, by their place in [Model.Common]; nil
	// is car k for draw k.
	Cars []int
}

// A Remedy is something that can be done to the car.
type Remedy struct {
	ID      string
	Minutes float64 // above 0, with the check whether it helped
}

// Unknown describes the hypothesis that something is wrong which the model does
// not know. Each reading of such a car is upset with probability Share, and then
// anything is as likely as the channel's wide range says; else it is that of a
// healthy car.
type Unknown struct {
	LogPrior float64 // as in [Hypothesis]; 0 is a weight of 1
	Share    float64 // 0 is [DefaultShare], else above 0 and at most 1
	Minutes  float64 // to get the better of it; 0 is 120
}

// UnknownID is the ID under which [Unknown] appears in results, and the ID of
// its remedy. ElsewhereID is the remedy of the healthy car.
const (
	UnknownID   = "unknown"
	ElsewhereID = "elsewhere"
)

// Defaults where a model leaves a figure at 0. They are estimates with no
// published source.
const (
	DefaultSlip  = 0.01
	DefaultShare = 0.15

	defaultElsewhere = 60.0
	defaultUnknown   = 120.0
)

// DefaultFactors returns the slips of a figure that are told apart: the decimal
// point one place off either way, a thousandfold unit either way, probes swapped.
func DefaultFactors() []float64 { return []float64{10, 0.1, 1000, 0.001, -1} }

package car

import (
	"fmt"

	"dwellwright/units"
)

// Origin says where a figure comes from. A figure is never shown without it.
type Origin uint8

const (
	Assumed  Origin = iota // not said in the file: a typical value with its spread
	Stated                 // written in the car file
	Measured               // written in the car file and marked as measured
)

// Param is one figure of the car: its value with spread, where it comes from
// and where in the file it stands (the zero Pos when it is assumed).
type Param struct {
	units.Value
	Kind   units.Kind
	Origin Origin
	Pos    Pos
}

// Pos is a place in a car file; Line and Column count from 1.
type Pos struct {
	File         string
	Line, Column int
}

// String writes file:line:column, as much of it as there is.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.File == "":
		return fmt.Sprintf("%d:%d", p.Line, p.Column)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Earth says which battery post is joined to the engine and body.
type Earth uint8

const (
	NegativeEarth Earth = iota
	PositiveEarth
)

// Car is everything that is known or assumed about one car's ignition.
// It is plain data: copying a Car and changing a field gives another car
// (slices and maps are shared; use Clone to change those).
type Car struct {
	Name  string
	Notes string

	NominalV  int // 6 or 12
	Earth     Earth
	Cylinders int // 4, 6 or 8

	Battery    Battery
	Charging   Charging
	Starter    Starter
	KeySwitch  KeySwitch
	Wiring     [LegCount]Leg // indexed by LegID
	Ballast    Ballast
	Coil       Coil
	Switch     Switch // what is fitted now
	Feed       FeedPoint
	FeedOrigin Origin
	Relay      Relay
	Loads      []Load
	Planned    *Planned // a conversion being considered, nil when none
	Plugs      Plugs
	Cap        Cap
	Engine     Engine

	Distributor Distributor
	Timing      Timing
	Trigger     TriggerFit
	Advance     Advance
	Bench       Bench

	Conditions []Condition
	Readings   []Reading
}

// Battery is the car's lead-acid battery.
type Battery struct {
	Capacity Param // A·h
	Internal Param // ohm, full and at 20 °C, posts included
}

// ChargingKind is what charges the battery.
type ChargingKind uint8

const (
	NoCharging ChargingKind = iota
	DCGenerator
	ACAlternator
)

// Charging is the generator or alternator with its regulator.
// Speeds are engine speeds in rpm.
type Charging struct {
	Kind       ChargingKind
	KindOrigin Origin
	CutIn      Param // rpm, below it a generator gives nothing
	FullOutput Param // rpm, from here the rating is available
	Rating     Param // A
	IdleShare  Param // fraction of the rating an alternator gives at idle
	SetPoint   Param // V at 20 °C at the regulator
	Drift      Param // V/K, negative: set point falls as the regulator warms
	Slope      Param // ohm, fall of regulated voltage with output current
}

// Starter is the starter motor at steady cranking.
type Starter struct {
	Current Param // A at AtVoltage, engine warm
	At      Param // V
}

// KeySwitch is the ignition switch.
type KeySwitch struct {
	Contact      Param // ohm, run contact
	LiveInStart  bool  // the run contact stays live while cranking
	LiveOrigin   Origin
	Bypass       bool // a start bypass feeds the coil while cranking
	BypassOrigin Origin
}

// LegID names a piece of the wiring; the names are in LegNames.
type LegID int

const (
	BatteryCable LegID = iota // live post to starter stud
	MainFeed                  // starter stud to the feed junction
	ChargeLead                // generator or alternator output to the feed junction
	SwitchFeed                // feed junction to the ignition switch
	IgnitionLead              // ignition switch to the supply side of the ballast
	CoilLead                  // coil side of the ballast to the coil's feed terminal
	TriggerLead               // coil's switched terminal to the breaker terminal
	BypassLead                // starter stud to the coil's feed terminal, start only
	FeedWire                  // feed point to the trigger's supply terminal
	RelayFeed                 // starter stud through a fuse to the relay contact
	PivotWire                 // breaker plate to distributor housing
	HousingClamp              // distributor housing to engine block
	EngineStrap               // engine block to body
	EarthCable                // engine block to the earthed battery post
	LegCount
)

// Age is how tired a leg's joints are; it picks the resistance of a joint
// where none is given.
type Age uint8

const (
	Used Age = iota
	New
	Old
	Corroded
)

// Leg is one run of wire with its joints. Resistance, when stated, replaces
// the figure computed from the rest.
type Leg struct {
	Section     Param // m²
	Length      Param // m
	Connections Param // count of joints in the run
	Joint       Param // ohm each
	Stranding   Param // factor on resistance for the lay of the strands, >= 1
	Age         Age
	Given       bool  // Resistance is stated in the file
	Resistance  Param // ohm at 20 °C, whole leg, used only when Given
}

// Ballast is the resistor or resistance wire in the run circuit.
type Ballast struct {
	Fitted       bool
	FittedOrigin Origin
	Cold         Param // ohm at 20 °C
	TempCo       Param // 1/K at 20 °C
	Thermal      Param // K/W to the air around it
}

// Coil is the ignition coil with what hangs on its secondary.
type Coil struct {
	Class          string // ID of one of CoilClasses
	ClassOrigin    Origin
	Primary        Param   // ohm at 20 °C (copper)
	Inductance     Param   // H, below the knee
	Turns          Param   // turns ratio, secondary over primary
	Burn           Param   // V, burning voltage of the spark on the secondary
	Series         Param   // ohm, secondary winding, lead and rotor while the spark burns
	Thermal        Param   // K/W winding to bay air
	MaxWatts       Param   // W the can stands continuously
	Secondary      Param   // ohm at 20 °C (copper), the part of Series that is the winding
	AtKingLead     float64 // ohm, the part of Series that a corroded lead from coil to cap adds; nothing in a car file
	Coupling       Param   // of primary and secondary, M/sqrt(L1 L2)
	Iron           Param   // ohm across the primary that stands for the loss in the iron
	Stray          Param   // F on the secondary: winding, leads, cap and plug
	Knee           Param   // A in the primary beyond which the iron saturates
	BeyondKnee     Param   // share of Inductance that is left beyond the knee
	Reversed       bool    // the plug's centre electrode is the positive one
	ReversedOrigin Origin
}

// SwitchKind is what interrupts the primary current.
type SwitchKind uint8

const (
	SinglePoints SwitchKind = iota
	DualPoints
	Darlington
	MOSFET
	IGBT
)

// Electronic reports whether the switch is a trigger module rather than points.
func (k SwitchKind) Electronic() bool { return k >= Darlington }

// Switch is the breaker points or the trigger module.
type Switch struct {
	Kind       SwitchKind
	KindOrigin Origin
	Dwell      Param // distributor degrees closed per lobe
	On         Param // ohm while closed (contact, MOSFET channel, slope of a saturated transistor)
	Saturation Param // V while closed at zero current (Darlington, IGBT); 0 for points and MOSFET
	MaxCurrent Param // A the contacts or module stand in the long run
	MinFeed    Param // V the trigger's electronics need to keep working, from its sheet
	Supply     Param // A the trigger's electronics draw

	Condenser       Param // F across the switch; 0 none
	CondenserSeries Param // ohm in series with it
	LongestDwell    Param // s for each spark that a trigger keeps the coil closed at most; 0: no such rule
	Clamp           Param // V at which an electronic switch conducts whatever its trigger says; 0 for points
	Gap             Param // m between the points at full lift; 0 for a module
	Spring          Param // N that hold the points closed; 0 for a module

	Shorts [ShortPlaces]float64 // S from the coil's switched side to earth through each place; nothing in a car file

	// The way out for a module's heat; all 0 for points.
	JunctionBase   Param // K/W, chip to the module's base
	BasePlate      Param // K/W, base to breaker plate; hangs on Mounting
	PlateBody      Param // K/W, plate to distributor housing, through balls and pivot
	BodyAir        Param // K/W, housing to bay air
	MaxJunction    Param // °C, hottest the chip may be
	Mounting       Mounting
	MountingOrigin Origin
}

// Mounting is what lies between a trigger module and the breaker plate.
type Mounting uint8

const (
	DryMounting     Mounting = iota // bare metal on bare metal
	PasteMounting                   // heat-conducting paste
	PaintedMounting                 // paint, lacquer or gasket in between
	WarpedMounting                  // touching in a few places only
)

// FeedPoint is where the trigger's supply wire is joined.
type FeedPoint uint8

const (
	FeedNone          FeedPoint = iota // points: nothing to feed
	FeedCoil                           // coil's feed terminal, behind the ballast
	FeedBallastSupply                  // supply side of the ballast
	FeedKeySwitch                      // outgoing terminal of the ignition switch
	FeedRelay                          // relay fed from the battery
)

// Relay is a relay between battery and ignition whose winding hangs on the
// old ignition wire.
type Relay struct {
	Fitted  bool
	Winding Param // ohm
	Contact Param // ohm
	Fuse    Param // ohm of fuse and holder
}

// Load is a consumer that is not ignition.
type Load struct {
	ID, Name string
	Current  Param // A at the nominal lamp voltage (12.8 V or 6.4 V)
}

// Planned is the conversion the owner is thinking of.
type Planned struct {
	Switch     Switch
	Feed       FeedPoint
	FeedOrigin Origin
}

// Condition is one state of the car in which everything must hold.
type Condition struct {
	ID, Name      string
	Engine        EngineState
	Speed         Param    // engine rpm; 0 when stopped
	Loads         []string // load IDs switched on
	StateOfCharge Param    // fraction
	BatteryTemp   Param    // °C
	BayTemp       Param    // °C, air round coil, ballast, wiring and distributor
	RegulatorTemp Param    // °C
	Manifold      Param    // Pa absolute in the inlet manifold
	Charge        Param    // °C, mixture in the cylinder as the inlet valve closes
	Advance       Param    // crank degrees before top dead centre at which the plug fires; below 0 after it
	BuiltIn       bool
}

// EngineState is what the engine and key are doing.
type EngineState uint8

const (
	Running       EngineState = iota
	Cranking                  // key in start
	StoppedClosed             // key on, points closed or trigger conducting
	StoppedOpen               // key on, points open or trigger off
)

// InstrumentKind is how a reading was taken.
type InstrumentKind uint8

const (
	Voltmeter    InstrumentKind = iota // shows the average
	VoltmeterMin                       // holds the lowest instant
	VoltmeterMax                       // holds the highest instant
	ScopeMin
	ScopeMax
	Ohmmeter
	ClampAmmeter // shows the average
	ClampPeak    // current clamp on a scope, highest instant
	Thermometer
	SparkTester // on one lead, set wide: the most it jumps
	TimingLight // at the damper, vacuum hose off
	WindowedCap // how far the rotor's tip is past its tower at the spark
	FeelerGauge // a plastic one, the shaft at rest
	Caliper     // the shaft at rest
)

// Reading is one measurement taken on the car.
type Reading struct {
	ID             string
	Condition      string // condition ID; empty for what is read with the key off
	Instrument     InstrumentKind
	Red, Black     string      // test points, see TestPoints; for what has no probes Red is the leg or part and Black is empty
	Value          units.Value // as shown by the instrument, SI
	Kind           units.Kind
	Leads          units.Value // ohm, both leads together (ohmmeter)
	LeadsNulled    bool
	Accuracy       units.Value // half-width in the reading's unit, 95 %
	When, By, Note string
	Option         string // plan option the car was wired as; empty for as fitted
	Pos            Pos
}

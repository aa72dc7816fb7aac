package car

// The words a car file uses for things that are one of a few, indexed by the
// constants they stand for.
var (
	earthWords      = []string{NegativeEarth: "negative", PositiveEarth: "positive"}
	chargingWords   = []string{NoCharging: "none", DCGenerator: "generator", ACAlternator: "alternator"}
	ageWords        = []string{Used: "used", New: "new", Old: "old", Corroded: "corroded"}
	switchWords     = []string{SinglePoints: "single_points", DualPoints: "dual_points", Darlington: "darlington", MOSFET: "mosfet", IGBT: "igbt"}
	feedWords       = []string{FeedNone: "none", FeedCoil: "coil_feed", FeedBallastSupply: "ballast_supply", FeedKeySwitch: "key_switch", FeedRelay: "relay"}
	engineWords     = []string{Running: "running", Cranking: "cranking", StoppedClosed: "stopped_closed", StoppedOpen: "stopped_open"}
	instrumentWords = []string{
		Voltmeter: "voltmeter", VoltmeterMin: "voltmeter_minimum", VoltmeterMax: "voltmeter_maximum",
		ScopeMin: "scope_minimum", ScopeMax: "scope_maximum", Ohmmeter: "ohmmeter",
		ClampAmmeter: "clamp_ammeter", ClampPeak: "clamp_peak", Thermometer: "thermometer", SparkTester: "spark_tester",
		TimingLight: "timing_light", WindowedCap: "windowed_cap", FeelerGauge: "feeler_gauge", Caliper: "caliper",
	}
	mountingWords  = []string{DryMounting: "dry", PasteMounting: "paste", PaintedMounting: "painted", WarpedMounting: "warped"}
	electrodeWords = []string{UsedElectrodes: "used", NewElectrodes: "new", WornElectrodes: "worn"}
	polarityWords  = []string{"normal", "reversed"} // of the coil's secondary, by Coil.Reversed
	rotationWords  = []string{Clockwise: "clockwise", Anticlockwise: "anticlockwise"}
	driveWords     = []string{GearDrive: "gear", OffsetTang: "offset_tang", CentredTang: "centred_tang"}
	principleWords = []string{Hall: "hall", Reluctance: "reluctance"}
	ringWords      = []string{AlternatingRing: "alternating", OnePerLobe: "one_per_lobe"}
	vacuumWords    = []string{PortedVacuum: "ported", ManifoldVacuum: "manifold", NoVacuum: "none"}
	sideWords      = []string{FreeSide: "free", LeftSide: "left", RightSide: "right"}
	originWords    = []string{Assumed: "assumed", Stated: "stated", Measured: "measured"}
)

func word[E ~uint8](words []string, e E) string {
	if int(e) < len(words) {
		return words[e]
	}
	return "unknown"
}

// find gives the constant a word stands for.
func find[E ~uint8](words []string, text string) (E, bool) {
	for i, w := range words {
		if w == text {
			return E(i), true
		}
	}
	return 0, false
}

// String gives the origin in words: assumed, stated or measured.
func (o Origin) String() string { return word(originWords, o) }

// String gives the word a car file uses.
func (e Earth) String() string { return word(earthWords, e) }

// String gives the word a car file uses.
func (k ChargingKind) String() string { return word(chargingWords, k) }

// String gives the word a car file uses.
func (a Age) String() string { return word(ageWords, a) }

// String gives the word a car file uses.
func (k SwitchKind) String() string { return word(switchWords, k) }

// String gives the word a car file uses.
func (f FeedPoint) String() string { return word(feedWords, f) }

// String gives the word a car file uses.
func (s EngineState) String() string { return word(engineWords, s) }

// String gives the word a car file uses.
func (k InstrumentKind) String() string { return word(instrumentWords, k) }

// String gives the word a car file uses.
func (m Mounting) String() string { return word(mountingWords, m) }

// String gives the word a car file uses.
func (e Electrodes) String() string { return word(electrodeWords, e) }

// String gives the word a car file uses.
func (r Rotation) String() string { return word(rotationWords, r) }

// String gives the word a car file uses.
func (k DriveKind) String() string { return word(driveWords, k) }

// String gives the word a car file uses.
func (p Principle) String() string { return word(principleWords, p) }

// String gives the word a car file uses.
func (k RingKind) String() string { return word(ringWords, k) }

// String gives the word a car file uses.
func (s VacuumSource) String() string { return word(vacuumWords, s) }

// String gives the word a car file uses.
func (s Side) String() string { return word(sideWords, s) }

// String gives the leg's name in a car file.
func (id LegID) String() string {
	if id >= 0 && id < LegCount {
		return LegNames[id]
	}
	return "unknown"
}

// ParseEarth reads "negative" or "positive".
func ParseEarth(text string) (Earth, bool) { return find[Earth](earthWords, text) }

// ParseChargingKind reads the word a car file uses.
func ParseChargingKind(text string) (ChargingKind, bool) {
	return find[ChargingKind](chargingWords, text)
}

// ParseAge reads the word a car file uses.
func ParseAge(text string) (Age, bool) { return find[Age](ageWords, text) }

// ParseSwitchKind reads the word a car file uses.
func ParseSwitchKind(text string) (SwitchKind, bool) { return find[SwitchKind](switchWords, text) }

// ParseFeedPoint reads the word a car file uses.
func ParseFeedPoint(text string) (FeedPoint, bool) { return find[FeedPoint](feedWords, text) }

// ParseEngineState reads the word a car file uses.
func ParseEngineState(text string) (EngineState, bool) { return find[EngineState](engineWords, text) }

// ParseInstrumentKind reads the word a car file uses.
func ParseInstrumentKind(text string) (InstrumentKind, bool) {
	return find[InstrumentKind](instrumentWords, text)
}

// ParseMounting reads the word a car file uses.
func ParseMounting(text string) (Mounting, bool) { return find[Mounting](mountingWords, text) }

// ParseRotation reads the word a car file uses.
func ParseRotation(text string) (Rotation, bool) { return find[Rotation](rotationWords, text) }

// ParseDriveKind reads the word a car file uses.
func ParseDriveKind(text string) (DriveKind, bool) { return find[DriveKind](driveWords, text) }

// ParsePrinciple reads the word a car file uses.
func ParsePrinciple(text string) (Principle, bool) { return find[Principle](principleWords, text) }

// ParseRingKind reads the word a car file uses.
func ParseRingKind(text string) (RingKind, bool) { return find[RingKind](ringWords, text) }

// ParseVacuumSource reads the word a car file uses.
func ParseVacuumSource(text string) (VacuumSource, bool) {
	return find[VacuumSource](vacuumWords, text)
}

// ParseSide reads the word a car file uses.
func ParseSide(text string) (Side, bool) { return find[Side](sideWords, text) }

// ParseElectrodes reads the word a car file uses.
func ParseElectrodes(text string) (Electrodes, bool) { return find[Electrodes](electrodeWords, text) }

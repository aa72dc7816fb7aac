package car

import "testing"

// roundTrip checks that every constant's word is read back as the constant,
// and that one past the last has no word.
func roundTrip[E ~uint8](t *testing.T, words []string, text func(E) string, parse func(string) (E, bool)) {
	t.Helper()
	for i := range words {
		if got, ok := parse(text(E(i))); !ok || got != E(i) {
			t.Errorf("%q is read as %v, %v", words[i], got, ok)
		}
	}
	if got, ok := parse(text(E(len(words)))); ok || text(E(len(words))) != "unknown" {
		t.Errorf("one too many: %v", got)
	}
}

func TestWords(t *testing.T) {
	roundTrip(t, earthWords, Earth.String, ParseEarth)
	roundTrip(t, chargingWords, ChargingKind.String, ParseChargingKind)
	roundTrip(t, ageWords, Age.String, ParseAge)
	roundTrip(t, switchWords, SwitchKind.String, ParseSwitchKind)
	roundTrip(t, feedWords, FeedPoint.String, ParseFeedPoint)
	roundTrip(t, engineWords, EngineState.String, ParseEngineState)
	roundTrip(t, instrumentWords, InstrumentKind.String, ParseInstrumentKind)
	roundTrip(t, mountingWords, Mounting.String, ParseMounting)
	roundTrip(t, electrodeWords, Electrodes.String, ParseElectrodes)
	roundTrip(t, rotationWords, Rotation.String, ParseRotation)
	roundTrip(t, driveWords, DriveKind.String, ParseDriveKind)
	roundTrip(t, principleWords, Principle.String, ParsePrinciple)
	roundTrip(t, ringWords, RingKind.String, ParseRingKind)
	roundTrip(t, vacuumWords, VacuumSource.String, ParseVacuumSource)
	roundTrip(t, sideWords, Side.String, ParseSide)
	for id := range LegCount {
		if got, ok := LegByName(id.String()); !ok || got != id || LegTitles[id] == "" {
			t.Errorf("leg %d", id)
		}
	}
	if _, ok := LegByName(LegID(LegCount).String()); ok {
		t.Error("a leg too many")
	}
}

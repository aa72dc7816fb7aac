package fault

// hazard is what a piece of work can hurt with; join several with |.
type hazard uint32

const (
	battery   hazard = 1 << iota // posts, clamps, the starter's stud
	acid                         // charging, lifting a battery
	wiring                       // something is cut or joined
	runs                         // engine running to set or prove it
	starts                       // first start with timing or leads changed
	highV                        // cap, rotor, leads, coil tower
	hotParts                     // coil, ballast, manifold
	condenser                    // holds its charge
	byHand                       // the crank is turned by hand
	lifted                       // the distributor comes out
	polarity                     // a module dies if joined the wrong way round
	fuel
	springs // small parts that fly off
	lamps   // what too high a voltage has already done
	belt
	overheats // full voltage on a ballasted coil
	road      // work that a licensed shop does
)

// cautionTexts are those usual in the trade [common practice; the starter's
// times US Army TM 10-3930-671-24].
var cautionTexts = [...]struct {
	about hazard
	text  string
}{
	{battery, "Earthed clamp off first and on last; make sure which post is earthed. Rings and bracelets off before touching a post or the starter stud: it is fed straight from the battery, without a fuse."},
	{acid, "Battery gas burns and acid blinds: no flame, no spark, eyes covered, charger off before its clips are moved, a place with air."},
	{wiring, "Battery disconnected for all wiring work, connected for tests only. Every new wire fused at its source; never a larger fuse to stop one from blowing."},
	{polarity, "A trigger joined the wrong way round is destroyed at once: look twice which post of this car is earthed before the battery goes back on."},
	{hotParts, "Coil, ballast and manifold burn skin: the ballast stands at 150 °C and more. Key off, and let them cool. Key on with the engine stopped: a minute at most."},
	{overheats, "Do not drive with a ballast bypassed that the coil was made for: coil, points and trigger burn, and a hot coil can burst."},
	{condenser, "A charged condenser bites: short it before handling it."},
	{highV, "The high-voltage side carries 20 to 40 kV with the key on: key off before a hand goes near cap, leads or coil tower. Spark tests with an earthed tester only, away from open plug holes and fuel. Anyone with a pacemaker or other implant stays away from a running or cranking ignition."},
	{byHand, "Turn the crank by hand with the ignition off and the plugs out; the starter never turns against a stop. Gearbox in neutral, wheels chocked."},
	{lifted, "Before the distributor is lifted, mark rotor, housing and block. On some engines it drives the oil pump: an engine run without that is ruined in a minute."},
	{springs, "Small springs and clips fly: eyes covered. Weights or a spring not hooked up as they should be can lock the advance or come loose at speed."},
	{starts, "First start after timing work: air cleaner fitted, nobody over the carburettor, an extinguisher for fuel and electrical fires within reach, rags and petrol away. Starter 30 s at most, then 2 min rest."},
	{runs, "Run the engine outdoors or with the exhaust piped out. Fan, belts and pulleys turn, and a strobe makes them look still: no tie, rings or loose sleeves, leads dressed away, stay out of the plane of the fan. Brake on, wheels chocked."},
	{belt, "Key out before hands go near belts and fan; an electric fan can start by itself."},
	{lamps, "Look over what has had the high voltage: lamps, battery (it may have been boiled), wiring. Do not open a battery that has just been overcharged: its gas burns."},
	{fuel, "Fuel and its vapour: engine cold, no spark, no flame, battery disconnected, an extinguisher within reach."},
	{road, "Work on the engine's inside, on fuel or on what the law tests is for those licensed to do it."},
}

// advises ends every list of cautions.
const advises = "It advises; local codes and licensed practice decide."

// cautions are those of a remedy's hazards.
func cautions(h hazard) []string {
	var list []string
	for _, x := range cautionTexts {
		if h&x.about != 0 {
			list = append(list, x.text)
		}
	}
	return append(list, advises)
}

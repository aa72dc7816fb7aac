package wire

// Resistance of one crimp, blade or ring terminal in ohms, with the range met
// [common practice, no source; the limit of 0.1 V in any one control wire of
// US Army TM 5-3820-256-24-4 is 25 milliohms at 4 A, so a tired joint is one
// that uses up most of it]. A joint's resistance is measured by its voltage
// drop with the working current in it: an ohmmeter's milliamperes pass
// through a single whole strand.
const (
	JointGoodOhm     = 2e-3 // clean and tight
	JointGoodLowOhm  = 1e-3
	JointGoodHighOhm = 5e-3

	JointTiredOhm     = 20e-3 // loose, tarnished, pulled about; works until it warms
	JointTiredLowOhm  = 5e-3
	JointTiredHighOhm = 50e-3

	JointBadOhm     = 150e-3 // green, burnt or hanging by a strand
	JointBadLowOhm  = 50e-3
	JointBadHighOhm = 500e-3
)

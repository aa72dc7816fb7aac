// Package wire is the copper between the parts: what a wire and its joints
// drop, how hot a wire runs, which gauge to choose and which fuse protects it.
//
// # Resistance
//
// A wire's resistance is ρ·l/A times how much longer its strands lie than the
// wire itself, and rises with temperature by 0.393 % of its 20 °C value for
// each kelvin. [Resistance] gives it, [AWGSection] the copper area of an
// American wire gauge. Two metres of 14 gauge is 17 milliohms: 0.07 V at 4 A.
// A tired crimp is as much again, which is why joints come with figures of
// their own, [JointGoodOhm], [JointTiredOhm] and [JointBadOhm].
//
// # Heat
//
// [TempRise] and [Ampacity] solve the heat balance of one metre of a single
// insulated wire lying level in still free air: what the current makes, the
// surface gives off by natural convection and radiation. The model is in the
// comment of [TempRise], with what it leaves out. The largest of that: wires
// in a bundle or sleeve keep each other warm. Common practice takes 80 % of
// the free-air current for four to six loaded wires and 70 % for seven to nine.
//
// # Choosing
//
// [Choose] finds the smallest gauge that keeps both a voltage limit and the
// insulation's temperature limit. In a car the voltage limit nearly always
// decides: at 4 A over 2 m any gauge from 20 up stays cool, but 0.1 V asks for
// 14. [Fuse] then picks the smallest standard fuse that carries the load for
// good and still melts before the wire is overloaded.
//
// A fuse protects the wire behind it, so it belongs at the source, as near the
// battery as can be. What is computed here advises; local codes, the
// insulation's own sheet and licensed practice decide. Disconnect the battery,
// earthed clamp first, before touching any unfused lead.
//
// # Units
//
// SI throughout, temperatures in degrees Celsius. Gauge numbers count down as
// wires grow: 20, 18 … 2, 1, then 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.
package wire

package fault

// turningCures are those of distributor, trigger, timing, the high-voltage
// side and the engine. All minutes are estimates.
var turningCures = []cure{
	{"renew_points", "New points; find what burnt the old ones: condenser, too high a voltage, oil. Then dwell and timing.", 30, []string{"points", "cam grease"}, condenser | runs},
	{"set_points", "Set the points by dwell, lock the screw, grease the cam; then the timing.", 20, []string{"cam grease"}, runs},
	{"clean_points", "Draw a clean dry card through the points; find where the oil comes from.", 10, nil, condenser},
	{"set_both_sets", "Set each set of points alone with the other held open, then both together, then the timing.", 30, nil, runs},
	{"renew_condenser", "Replace the condenser by one of the right value; keep one that has proven itself as spare. Its can and lead tight.", 15, []string{"condenser"}, condenser},
	{"renew_breaker_lead", "New flexible lead from the terminal to the points, its insulators in their order, free through the plate's whole travel.", 25, []string{"flexible lead", "insulating washers"}, condenser},

	{"replace_trigger", "Replace the trigger; before the new one is fed, check feed voltage, coil resistance and which way round it is joined. Points put back get the car home.", 40, []string{"trigger module"}, wiring | polarity | runs},
	{"cool_trigger", "Bare metal and heat paste between trigger and plate, a plate that is flat and well earthed.", 30, []string{"heat paste"}, wiring},
	{"set_air_gap", "Set the air gap with a plastic feeler to what the trigger's sheet asks; turn the shaft by hand all the way round.", 15, nil, runs},
	{"shim_sleeve", "Shim shaft or sleeve until the magnets run level with the sensor.", 30, []string{"shims"}, runs},
	{"renew_sleeve", "New sleeve with its magnets, the right one for this shaft, fixed as its sheet says.", 25, []string{"magnet sleeve"}, runs | starts},
	{"fit_suppression_leads", "Suppression leads and plugs in place of solid-core leads.", 20, []string{"suppression leads"}, highV},
	{"remove_condenser", "Take the old condenser off the trigger's output.", 5, nil, condenser},
	{"seat_rotor", "Find what holds the rotor up, seat it; check that cap and rotor do not touch before the starter turns.", 15, nil, highV | byHand},

	{"set_timing", "Set the timing with a light to the engine's figure, lock the housing, scribe a line; a hold-down that lets it turn by hand is renewed.", 12, []string{"hold-down, if it does not hold"}, runs},
	{"correct_phase", "Move trigger, sleeve or rotor key until the tip stands at its tower at the spark; turning the housing does not do it.", 60, nil, runs | starts},
	{"reseat_leads", "Find compression of No. 1 by hand, then put the leads in by the firing order from the tower the rotor points at.", 10, nil, highV | byHand | starts},
	{"remesh_drive", "Lift the distributor and mesh it a tooth over; mind the drive of the oil pump.", 20, nil, lifted | byHand | starts},
	{"renew_damper", "Find true top dead centre with a stop in the plug hole, mark it anew; replace the damper if its ring has crept. Set the timing by it.", 40, []string{"damper"}, byHand | runs},
	{"read_again", "Read the timing again: light on the lead of No. 1, the other way round, another light; compare with the stop in the plug hole.", 10, nil, runs | byHand},
	{"right_hose", "Join the vacuum hose where the engine's book has it, sound and tight; write down which port.", 10, []string{"vacuum hose"}, runs | hotParts},

	{"free_weights", "Strip the advance, clean and oil weights, pins and sleeve; then read the curve.", 60, nil, springs | runs},
	{"fit_right_springs", "Fit the pair of springs and the stop that make the wanted curve, both hooked up; then read the curve.", 50, []string{"advance springs"}, springs | runs},
	{"fit_stop_bush", "Fit the stop bush again; then read the curve to its end.", 40, []string{"stop bush"}, springs | runs},
	{"renew_can", "New vacuum can of the same start, travel and rate.", 25, []string{"vacuum can"}, runs},
	{"free_plate", "Take the plate out, clean or renew its bearing, check its wires over the whole travel; then dwell and timing.", 45, []string{"breaker plate"}, runs},
	{"rebush", "New bushes, reamed to the shaft; then gap, dwell and timing.", 90, []string{"bushes"}, lifted | byHand | starts},
	{"shim_shaft", "Shim the shaft to its end play, thrust washer in.", 40, []string{"thrust washers"}, lifted | byHand | starts},
	{"renew_drive", "New gear and pin; look at the gear it runs with.", 60, []string{"drive gear", "pin"}, lifted | byHand | starts},
	{"renew_chain", "New timing chain and wheels.", 300, []string{"timing chain", "wheels", "gaskets"}, byHand | starts | road},

	{"renew_cap_rotor", "New cap and rotor, as a pair that belongs together; look at the gap with clay.", 10, []string{"cap", "rotor"}, highV},
	{"renew_rotor", "New rotor of the right length, without a rivet that stands through; keep a spare.", 5, []string{"rotor"}, highV},
	{"dry_cap", "Dry the cap inside and out, find the way the water comes in; vent open.", 15, nil, highV},
	{"renew_leads", "New set of leads, one at a time, kept apart where neighbours fire one after the other.", 20, []string{"set of leads"}, highV},
	{"clean_plugs", "Clean or replace the plugs, right heat range; cure what fouled them.", 25, []string{"plugs"}, highV | hotParts | fuel},
	{"gap_plugs", "Set the plugs' gap with a wire gauge, or replace worn ones.", 20, []string{"plugs"}, highV | hotParts},

	{"seal_leak", "Find and seal the leak in the inlet: hoses, gaskets, spindles. No spraying of anything that burns.", 40, []string{"gasket", "vacuum hose"}, runs | fuel},
	{"fuel_side", "Not ignition: pump, filter, tank vent, float bowl.", 60, []string{"fuel filter"}, fuel | road},
	{"keep_fuel_cool", "Not ignition: lead fuel line and pump away from heat, spacer and shield under the carburettor.", 60, []string{"heat shield"}, fuel | hotParts | road},
	{"engine_side", "Not ignition: compression and leak-down test, then valves or rings.", 600, nil, byHand | road},
}

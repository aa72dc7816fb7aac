package distributor_test

import (
	"fmt"

	"dwellwright/distributor"
)

// An invented eight. Its new trigger came out 20 distributor degrees further
// round than the points were, and the hose leaves the vacuum can no room.
func Example() {
	d := distributor.Distributor{
		Rotation: distributor.Clockwise,
		Lobes:    distributor.Even(8), Towers: distributor.Even(8), FirstTower: 30,
		Leads:       []int{1, 8, 4, 3, 6, 5, 7, 2},
		FiringOrder: []int{1, 8, 4, 3, 6, 5, 7, 2}, FiringAt: distributor.EvenFiring(8),
		Trigger: 10, Cam: 10, Rotor: 50, Mesh: -15, Teeth: 13,
		TipRadiusM: 0.027, ElectrodeRadiusM: 0.028, TipWidthM: 0.010, ElectrodeWidthM: 0.004,
		ClampRadiusM: 0.035,
		Features:     []distributor.Arc{{Name: "vacuum can", From: -20, To: 20}},
		Obstacles:    []distributor.Arc{{Name: "heater hose", From: -45, To: -35}, {Name: "manifold", From: 60, To: 90}},
		Clearance:    3,
		TriggerRange: [2]float64{-25, 5},
	}
	fmt.Printf("as it is: %.0f° before top, rotor %+.0f° from its tower\n", d.Timing(0, 0), d.Fire(0, 0)[0].Phase)
	wish := distributor.Wish{Advance: 10, SpareKV: 10, ScatterDeg: 1, MayMoveLeads: true, MayMoveTrigger: true}
	ways, refused, err := d.Ways(wish)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range ways {
		fmt.Printf("trigger %+.1f°, leads %+d, housing %+.1f° (%+.1f mm): %s, %.0f minutes estimated\n",
			w.Move.Trigger, w.Move.Leads, w.Move.Housing, w.HousingM*1e3, w.Register.Verdict, w.Minutes)
	}
	for _, r := range refused {
		if r.Move.Leads == 0 && r.Move.Trigger == 0 {
			fmt.Printf("housing alone, %+.0f°: %s\n", r.Move.Housing, r.Why)
		}
	}
	// Output:
	// as it is: -30° before top, rotor +20° from its tower
	// trigger -20.0°, leads +0, housing +0.0° (+0.0 mm): in register, 15 minutes estimated
	// trigger -18.0°, leads +0, housing -2.0° (-1.2 mm): in register, 16 minutes estimated
	// trigger -6.3°, leads -1, housing +31.3° (+19.1 mm): in register, 21 minutes estimated
	// trigger +0.0°, leads -1, housing +25.0° (+15.3 mm): wrong tower, 6 minutes estimated
	// housing alone, -20°: the vacuum can would meet the heater hose
}

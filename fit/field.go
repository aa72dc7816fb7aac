package fit

import "strings"

// fieldOf is the name in the car file of a field of the geometry, "" where
// none decides it alone.
func fieldOf(field string) string {
	name, _, _ := strings.Cut(field, "[")
	return map[string]string{
		"Towers":           "distributor.towers",
		"Lobes":            "distributor.intervals",
		"FiringAt":         "distributor.intervals",
		"Leads":            "distributor.leads",
		"FiringOrder":      "distributor.firing_order",
		"FirstTower":       "distributor.first_tower",
		"Housing":          "distributor.can_at",
		"Features":         "distributor.can_width",
		"Obstacles":        "distributor.obstacles",
		"Clearance":        "distributor.clear",
		"TipRadiusM":       "distributor.tip_radius",
		"ElectrodeRadiusM": "cap.rotor_gap",
		"TipWidthM":        "distributor.tip_width",
		"ElectrodeWidthM":  "distributor.electrode_width",
		"ClampRadiusM":     "distributor.clamp_radius",
		"VacuumTravel":     "advance.vacuum.travel",
		"Teeth":            "distributor.drive.teeth",
		"Plate":            "distributor.plate_pivot",
		"TriggerRange":     "distributor.trigger_slot",
		"SleeveRange":      "distributor.sleeve_turn",
	}[name]
}

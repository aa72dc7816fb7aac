package twin

import (
	"errors"
	"fmt"
	"strings"

	"dwellwright/car"
	"dwellwright/distributor"
)

// Mechanics says what is impossible about a car's distributor and its
// advance, nil where nothing is: as car.Errors, so that it is told like any
// slip of the file, and with what package distributor or advance calls it to
// errors.Is.
func Mechanics(c *car.Car) error {
	var list car.Errors
	for _, part := range []struct {
		path string
		err  error
	}{{"advance", Mechanism(c).Validate()}, {"advance.vacuum", Can(c).Validate()}} {
		if part.err != nil {
			list = append(list, &car.Problem{
				Field: part.path, What: part.err.Error(),
				Class: fmt.Errorf("%w: %w", car.ErrContradiction, part.err),
			})
		}
	}
	if len(list) > 0 { // the geometry hangs on what of the timing is centrifugal
		return list
	}
	d := Distributor(c)
	var wrong *distributor.Error
	if err := d.Validate(); errors.As(err, &wrong) {
		path, what, accept := fieldOf(wrong.Field), fmt.Sprintf("%v: %s", wrong.Err, wrong.What), wrong.Accept
		if wrong.Field == "VacuumTravel" && d.Plate.PivotRadiusM > 0 {
			path = "distributor.plate_pivot"
			what = fmt.Sprintf("to move the spark by advance.vacuum.travel the plate would have to swing %.0f degrees about its pin", d.VacuumTravel)
			accept = "a pin about which some degrees of swing do it, or less travel"
		}
		list = append(list, &car.Problem{
			Pos: placeOf(c, path), Field: path, What: what, Accept: accept,
			Class: fmt.Errorf("%w: %w", car.ErrContradiction, wrong),
		})
	}
	if len(list) == 0 {
		return nil
	}
	return list
}

// placeOf is where a figure stands in the car file.
func placeOf(c *car.Car, path string) car.Pos {
	for _, r := range car.Params(c) {
		if r.Path == path {
			return r.P.Pos
		}
	}
	return car.Pos{}
}

// fieldOf is the name in the car file of a field of the geometry, "" where
// none decides it alone.
func fieldOf(field string) string {
	name, _, _ := strings.Cut(field, "[")
	path, ok := map[string]string{
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
		"Teeth":            "distributor.teeth",
		"Plate":            "distributor.plate_pivot",
		"TriggerRange":     "distributor.trigger_slot",
		"SleeveRange":      "distributor.sleeve_turn",
	}[name]
	if !ok {
		return "distributor"
	}
	return path
}

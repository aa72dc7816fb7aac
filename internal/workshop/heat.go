package workshop

import (
	"dwellwright/car"
	"dwellwright/spark"
)

// Heat is the heat of switch and coil through a drive.
func Heat(c *car.Car, option string, set spark.DriveSettings) (*spark.DriveResult, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return spark.Drive(d, set)
}


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

// Mountings is how hot a module gets through a drive with each thing there
// can be between its base and the breaker plate.
func Mountings(c *car.Car, option string, set spark.DriveSettings) ([]spark.Mounted, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return spark.Mountings(d, set)
}

// KeyOn is the heat of a key left on with the engine stopped.
func KeyOn(c *car.Car, option string, set spark.KeyOnSettings) (*spark.KeyOnResult, error) {
	d, err := wired(c, option)
	if err != nil {
		return nil, err
	}
	return spark.KeyOn(d, set)
}

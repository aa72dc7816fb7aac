// Package schema carries the JSON Schemas of what goes in and comes out: the
// car file, the proof sheet, the plan, the spark, the fit, the curve, the suspects and
// the catalogues of faults and readings. Each is generated from the code that
// reads or writes it and checked by tests.
package schema

import _ "embed"

var (
	//go:embed car.schema.json
	carFile []byte
	//go:embed proof.schema.json
	proof []byte
	//go:embed plan.schema.json
	plan []byte
	//go:embed spark.schema.json
	spark []byte
	//go:embed fit.schema.json
	fit []byte
	//go:embed curve.schema.json
	curve []byte
	//go:embed suspect.schema.json
	suspect []byte
	//go:embed faults.schema.json
	faults []byte
	//go:embed readings.schema.json
	readings []byte
)

// Get returns the schema of that name: car, proof, plan, spark, fit,
// curve, suspect, faults or readings; nil for any other.
func Get(name string) []byte {
	switch name {
	case "car":
		return carFile
	case "proof":
		return proof
	case "plan":
		return plan
	case "spark":
		return spark
	case "fit":
		return fit
	case "curve":
		return curve
	case "suspect":
		return suspect
	case "faults":
		return faults
	case "readings":
		return readings
	}
	return nil
}

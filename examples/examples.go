// Package examples holds the example car files. Cars, parts and people in
// them are invented.
package examples

import _ "embed"

// DemoName is the name the demo car's file goes by.
const DemoName = "examples/harrowmere-eight.yaml"

// Demo is the demo car: a generator-charged V8 with dual points whose owner
// is thinking of a trigger.
//
//go:embed harrowmere-eight.yaml
var Demo []byte

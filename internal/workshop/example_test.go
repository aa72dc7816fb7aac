package workshop_test

import (
	"fmt"
	"log"
	"net/url"

	"dwellwright/internal/workshop"
)

// What is tried at the bench is read from an address and said in words.
func ExampleParseBench() {
	c, err := workshop.Open("demo", nil)
	if err != nil {
		log.Fatal(err)
	}
	q, _ := url.ParseQuery("condition=hot_idle&ballast=0.4+ohm&bay=180+°F&speed=fast")
	b, errs := workshop.ParseBench(c, q)
	for _, t := range b.Tried(c) {
		fmt.Println(t)
	}
	fmt.Println(errs[0].Field, "is not taken")
	// Output:
	// engine bay air 82.2 °C
	// ballast cold 0.4 Ω
	// speed is not taken
}

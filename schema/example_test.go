package schema_test

import (
	"encoding/json"
	"fmt"
	"log"

	"dwellwright/schema"
)

func ExampleGet() {
	var s struct{ Title string }
	if err := json.Unmarshal(schema.Get("proof"), &s); err != nil {
		log.Fatal(err)
	}
	fmt.Println(s.Title)
	// Output: Dwellwright proof sheet
}

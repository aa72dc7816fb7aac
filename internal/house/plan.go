package house

// Plan is how a module is meant to be built.
type Plan struct {
	Module  string
	Rooms   map[string]int // floor of each package, by folder
	Tests   []string       // packages for tests only: they import what they like, the program none of them
	Arrows  []Arrow        // imports on one floor that are meant
	Core    int            // floors below this one compute and touch nothing outside
	Lines   int            // the most a file may have
	Example func(dir string) bool
}

// Arrow is an import from one package to another on the same floor.
type Arrow struct{ From, To, Why string }

// Ours is the plan of this module.
func Ours() Plan {
	return Plan{
		Module: "dwellwright",
		Rooms: map[string]int{
			"cmd/dwellwright":   6,
			"internal/cli":      5,
			"internal/web":      5,
			"internal/workshop": 4,
			"plan":              3,
			"prove":             3,
			"draw":              3,
			"spark":             3,
			"spike":             3,
			"fit":               3,
			"curve":             3,
			"measure":           3,
			"suspect":           3,
			"twin":              2,
			"fault":             2,
			"car":               1,
			"units":             0,
			"circuit":           0,
			"supply":            0,
			"wire":              0,
			"firing":            0,
			"gas":               0,
			"heat":              0,
			"pulse":             0,
			"magnet":            0,
			"distributor":       0,
			"advance":           0,
			"lobes":             0,
			"evidence":          0,
			"examples":          0,
			"schema":            0,
		},
		Tests: []string{"internal/judge", "internal/browsertest", "internal/house"},
		Arrows: []Arrow{
			{"plan", "prove", "an option is compared by its proof sheet"},
			{"suspect", "measure", "a suspect is told by what can be read"},
			{"firing", "circuit", "a firing is written out as a network"},
			{"pulse", "circuit", "a pulse's generator is a network"},
			{"internal/cli", "internal/web", "serve and demo open the pages"},
		},
		Core:  4,
		Lines: 600,
		Example: func(dir string) bool {
			// main can't be imported, and examples holds one variable.
			return dir != "cmd/dwellwright" && dir != "examples"
		},
	}
}

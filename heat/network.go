package heat

import "fmt"

// MaxNodes is the largest number of nodes, and of given temperatures, of a
// network: a switch or a coil takes two to five.
const MaxNodes = 16

// Node is a piece that has one temperature.
type Node struct {
	Name  string
	JPerK float64 // heat capacity, mass times specific heat; 0 follows its neighbours at once
}

// Path is a way for heat between two nodes, or between a node and a given
// temperature: (T_A - T_B)/KPerW watts flow from A to B.
type Path struct {
	A, B  string  // names of nodes or of given temperatures
	KPerW float64 // thermal resistance, more than 0
}

// Network is a thermal network: nodes, paths, and temperatures that are given
// from outside (air, block) whatever heat flows into them. The order of Nodes
// and Given is that of the powers and temperatures in every call.
type Network struct {
	Nodes []Node
	Given []string
	Paths []Path
}

// Validate reports the first thing that can't be: [NetworkError],
// [InputError] or [FloatingError].
func (n Network) Validate() error {
	_, err := n.Compile()
	return err
}

// Compile checks a network and makes it ready to be solved.
func (n Network) Compile() (*System, error) {
	for _, c := range []struct {
		what string
		got  int
	}{{"nodes", len(n.Nodes)}, {"given temperatures", len(n.Given)}} {
		if c.got < 1 || c.got > MaxNodes {
			return nil, &NetworkError{"network", fmt.Sprintf("%d %s; 1 to %d are wanted", c.got, c.what, MaxNodes)}
		}
	}
	s := &System{names: make([]string, len(n.Nodes)), capacity: make([]float64, len(n.Nodes)), given: append([]string(nil), n.Given...)}
	index := map[string]int{} // nodes from 0 up, given temperatures from -1 down
	enter := func(name string, at int) error {
		if _, twice := index[name]; twice || name == "" {
			return &NetworkError{fmt.Sprintf("name %q", name), "names that differ and are not empty are wanted"}
		}
		index[name] = at
		return nil
	}
	for i, node := range n.Nodes {
		if err := enter(node.Name, i); err != nil {
			return nil, err
		}
		if err := firstBad(fmt.Sprintf("node %q", node.Name), capacity("JPerK", node.JPerK)); err != nil {
			return nil, err
		}
		s.names[i], s.capacity[i] = node.Name, node.JPerK
		if node.JPerK > 0 {
			s.storing = append(s.storing, i)
		} else {
			s.instant = append(s.instant, i)
		}
	}
	for j, name := range n.Given {
		if err := enter(name, -1-j); err != nil {
			return nil, err
		}
	}
	s.g = make([]float64, len(n.Nodes)*len(n.Nodes))
	s.b = make([]float64, len(n.Nodes)*len(n.Given))
	for _, p := range n.Paths {
		where := fmt.Sprintf("path %q to %q", p.A, p.B)
		a, okA := index[p.A]
		b, okB := index[p.B]
		switch {
		case !okA || !okB:
			return nil, &NetworkError{where, "two names of nodes or given temperatures of this network are wanted"}
		case a == b || a < 0 && b < 0:
			return nil, &NetworkError{where, "two ends that differ, at least one of them a node, are wanted"}
		}
		if err := firstBad(where, resistance("KPerW", p.KPerW)); err != nil {
			return nil, err
		}
		s.join(a, b, 1/p.KPerW)
	}
	if i := s.floating(); i >= 0 {
		return nil, &FloatingError{s.names[i]}
	}
	return s, nil
}

// System is a network ready to be solved. It is never changed after Compile
// and may be used by many goroutines at once.
type System struct {
	names    []string
	given    []string
	capacity []float64 // J/K
	storing  []int     // nodes with a capacity
	instant  []int     // nodes without

	// Heat leaving node i is sum_j g[i,j] T_j - sum_k b[i,k] given_k, W; g is
	// symmetric. Row after row.
	g, b []float64
}

func (s *System) join(a, b int, w float64) {
	n, m := len(s.names), len(s.given)
	for _, e := range [][2]int{{a, b}, {b, a}} {
		switch {
		case e[0] < 0:
		case e[1] < 0:
			s.g[e[0]*n+e[0]] += w
			s.b[e[0]*m-1-e[1]] += w
		default:
			s.g[e[0]*n+e[0]] += w
			s.g[e[0]*n+e[1]] -= w
		}
	}
}

// floating returns a node that no chain of paths joins to a given
// temperature, or -1.
func (s *System) floating() int {
	n, m := len(s.names), len(s.given)
	held := make([]bool, n)
	for range n {
		for i := range n {
			for k := range m {
				held[i] = held[i] || s.b[i*m+k] > 0
			}
			for j := range n {
				held[i] = held[i] || held[j] && s.g[i*n+j] < 0
			}
		}
	}
	for i, h := range held {
		if !h {
			return i
		}
	}
	return -1
}

package spark

import (
	"fmt"
	"math"

	"dwellwright/car"
	"dwellwright/firing"
	"dwellwright/heat"
	"dwellwright/twin"
)

// ChartSettings say how a map is worked out. The zero value of each is its
// usual.
type ChartSettings struct {
	Fitting Fitting
	Speeds  int // engine speeds, 40
	Volts   int // supply voltages, 25
	Draws   int // cars drawn at each node where uncertainty is worked out, 0: none
	Every   int // a node is every so many speeds and voltages, 5
	Seed    uint64
	MaxRPM  float64 // a fifth above the car's top speed
}

// Chart is the spark in hand over engine speed and supply voltage with the
// throttle wide open, the most a plug asks at that speed.
type Chart struct {
	Fitting Fitting
	RPM     []float64
	Volts   []float64   // V at the battery, coil current not flowing
	Hand    [][]float64 // [voltage][speed], available over asked
	PM      [][]float64 // half the 95 % interval, between nodes by straight lines; nil without draws
	KV      [][]float64 // available, kV
	Asked   []float64   // kV asked, by speed
	Firings int         // solved for it
}

// NewChart works the map out. Below half of the speed between the fastest
// cranking and the slowest running condition the engine is cranked: the start
// bypass, if there is one, feeds the coil. Winding and ballast are as warm as
// each cell makes them, bay and charge as warm as at the hot idle.
func NewChart(c *car.Car, set ChartSettings) (*Chart, error) {
	def := func(v *int, to int) {
		if *v <= 0 {
			*v = to
		}
	}
	def(&set.Speeds, 40)
	def(&set.Volts, 25)
	def(&set.Every, 5)
	d := Fit(c, set.Fitting)
	top := 0.0
	for i := range d.Conditions {
		top = math.Max(top, d.Conditions[i].Speed.X)
	}
	if set.MaxRPM <= 0 {
		set.MaxRPM = math.Max(1.2*top, 1000)
	}
	ch := &Chart{Fitting: set.Fitting}
	lo, hi := 0.5*float64(c.NominalV), 1.3*float64(c.NominalV)
	ch.RPM, ch.Volts = steps(100, set.MaxRPM, set.Speeds), steps(lo, hi, set.Volts)
	p, err := newPlotter(d)
	if err != nil {
		return nil, err
	}
	// The middle car, every cell.
	if err := p.draw(0, set.Seed); err != nil {
		return nil, err
	}
	ch.Asked = make([]float64, len(ch.RPM))
	for i, rpm := range ch.RPM {
		ch.Asked[i] = p.asked(rpm) / 1e3
	}
	ch.Hand, ch.KV = grid(len(ch.Volts), len(ch.RPM)), grid(len(ch.Volts), len(ch.RPM))
	for j, v := range ch.Volts {
		for i, rpm := range ch.RPM {
			kv, err := p.available(v, rpm)
			if err != nil {
				return nil, fmt.Errorf("%.0f rpm, %.1f V: %w", rpm, v, err)
			}
			ch.KV[j][i], ch.Hand[j][i] = kv/1e3, kv/1e3/ch.Asked[i]
			ch.Firings++
		}
	}
	if set.Draws <= 0 {
		return ch, nil
	}
	// Drawn cars at the nodes. A draw is one car at every node.
	is, js := nodes(len(ch.RPM), set.Every), nodes(len(ch.Volts), set.Every)
	got := make([][]float64, len(is)*len(js))
	for k := 1; k <= set.Draws; k++ {
		if err := p.draw(k, set.Seed); err != nil {
			continue // a car out of the tail that has no steady motion
		}
		for a, j := range js {
			for b, i := range is {
				kv, err := p.available(ch.Volts[j], ch.RPM[i])
				if err != nil {
					return nil, fmt.Errorf("draw %d, %.0f rpm, %.1f V: %w", k, ch.RPM[i], ch.Volts[j], err)
				}
				n := a*len(is) + b
				got[n] = append(got[n], kv/p.asked(ch.RPM[i]))
				ch.Firings++
			}
		}
	}
	pm := make([]float64, len(got))
	for n := range got {
		pm[n] = twin.Middle95(0, got[n]).PM()
	}
	ch.PM = grid(len(ch.Volts), len(ch.RPM))
	for j := range ch.Volts {
		a, v := between(js, j)
		for i := range ch.RPM {
			b, u := between(is, i)
			at := func(a, b int) float64 { return pm[a*len(is)+b] }
			ch.PM[j][i] = (1-v)*((1-u)*at(a, b)+u*at(a, b+1)) + v*((1-u)*at(a+1, b)+u*at(a+1, b+1))
		}
	}
	return ch, nil
}

func steps(lo, hi float64, n int) []float64 {
	v := make([]float64, max(n, 2))
	for i := range v {
		v[i] = lo + (hi-lo)*float64(i)/float64(len(v)-1)
	}
	return v
}

func grid(rows, columns int) [][]float64 {
	g := make([][]float64, rows)
	all := make([]float64, rows*columns)
	for j := range g {
		g[j] = all[j*columns : (j+1)*columns : (j+1)*columns]
	}
	return g
}

// nodes lists every so many of n places, the last among them, at least two.
func nodes(n, every int) []int {
	var list []int
	for i := 0; i < n-1; i += every {
		list = append(list, i)
	}
	return append(list, n-1)
}

// between finds the node at or below place i and how far it is to the next.
func between(list []int, i int) (node int, part float64) {
	for node = len(list) - 2; node > 0 && list[node] > i; node-- {
	}
	return node, float64(i-list[node]) / float64(list[node+1]-list[node])
}

// plotter works out what one car gives at any speed and supply voltage.
type plotter struct {
	sampler    *twin.Sampler
	c          *car.Car // the drawn car
	run, crank *circuit
	idle, top  *car.Condition
	over       float64 // rpm, from here the engine runs
	solver     firing.Solver
}

// circuit is a car's primary circuit in one condition, with what warms left
// to be worked out.
type circuit struct {
	model  *twin.Model
	rest   float64 // ohm that does not warm
	share  float64 // V at the coil for each V of supply, no current flowing
	wind20 float64 // ohm of the winding at 20 °C
	bal20  float64 // ohm of the ballast at 20 °C, 0: none in this circuit
	warms  bool    // long enough that winding and ballast are warm
	bay    float64
}

func newPlotter(c *car.Car) (*plotter, error) {
	p := &plotter{sampler: twin.NewSampler(c, 0)}
	d := p.sampler.Car
	p.c = d
	fast := 0.0
	var crank *car.Condition
	for i := range d.Conditions {
		k := &d.Conditions[i]
		switch k.Engine {
		case car.Cranking:
			if k.Speed.X > fast {
				fast, crank = k.Speed.X, k
			}
		case car.Running:
			if p.idle == nil || k.Speed.X < p.idle.Speed.X {
				p.idle = k
			}
			if p.top == nil || k.Speed.X > p.top.Speed.X {
				p.top = k
			}
		}
	}
	if p.idle == nil {
		return nil, fmt.Errorf("spark: the car has no condition with the engine running")
	}
	p.over = (fast + p.idle.Speed.X) / 2
	var err error
	if p.run, err = newCircuit(d, p.idle.ID); err != nil {
		return nil, err
	}
	p.crank = p.run
	if crank != nil {
		if p.crank, err = newCircuit(d, crank.ID); err != nil {
			return nil, err
		}
	}
	return p, nil
}

func newCircuit(c *car.Car, condition string) (*circuit, error) {
	m, err := twin.Build(c, condition)
	return &circuit{model: m, warms: err == nil && m.Condition().Engine == car.Running}, err
}

// draw makes the plotter's car draw k.
func (p *plotter) draw(k int, seed uint64) error {
	p.sampler.Seed(seed)
	p.sampler.Draw(k)
	p.run.bay = p.idle.BayTemp.X
	list := []*circuit{p.run, p.crank}
	if p.run == p.crank {
		list = list[:1]
	}
	for _, q := range list {
		if err := q.model.Refresh(); err != nil {
			return err
		}
		if err := q.model.Solve(); err != nil {
			return err
		}
		pr, err := q.model.Primary()
		if err != nil {
			return err
		}
		q.share = pr.Volts / math.Max(pr.Supply, 1e-3)
		q.wind20, q.bal20 = p.c.Coil.Primary.X, 0
		q.bay = q.model.Condition().BayTemp.X
		if pr.Ballast > 0 && pr.Ohms > pr.Winding+pr.Ballast { // else the start bypass goes round it
			q.bal20 = p.c.Ballast.Cold.X
		} else {
			pr.Ballast = 0
		}
		q.rest = math.Max(pr.Ohms-pr.Winding-pr.Ballast, 1e-3)
	}
	return nil
}

// asked is what the plug asks with the throttle wide open at that speed, V.
func (p *plotter) asked(rpm float64) float64 {
	k := *p.idle
	if rpm < p.over {
		k = *p.crank.model.Condition()
	} else if p.top.Speed.X > p.idle.Speed.X {
		// Advance rises with speed from the idle's to the top speed's.
		u := math.Min(math.Max((rpm-p.idle.Speed.X)/(p.top.Speed.X-p.idle.Speed.X), 0), 1)
		k.Advance.X += u * (p.top.Advance.X - p.idle.Advance.X)
	}
	_, snap := twin.Demand(p.c, &k, p.sampler.Demand)
	return snap.TotalV
}

// available is what the secondary would come to at a supply voltage and a
// speed, V. Winding and ballast are as warm as their own mean power makes
// them: the mean square of a current that rises along its exponential for the
// dwell's share of the time.
func (p *plotter) available(volts, rpm float64) (float64, error) {
	q := p.run
	if rpm < p.over {
		q = p.crank
	}
	c := p.c
	pr := twin.Primary{Volts: volts * q.share}
	hot, warm := q.bay, q.bay
	r := twin.Dwell(c, rpm)
	for n := 0; ; n++ {
		pr.Winding = q.wind20 * (1 + heat.CopperPerK*(warm-20))
		pr.Ballast = q.bal20 * (1 + math.Max(c.Ballast.TempCo.X, 0)*(hot-20))
		pr.Ohms = q.rest + pr.Winding + pr.Ballast
		if n == 3 || !q.warms {
			break
		}
		ms := meanSquare(pr.Volts/pr.Ohms, c.Coil.Inductance.X/pr.Ohms, r)
		warm = math.Min(q.bay+c.Coil.Thermal.X*ms*pr.Winding, 300)
		hot = math.Min(q.bay+c.Ballast.Thermal.X*ms*pr.Ballast, 900)
	}
	// The other plugs ask half and fire, as when one lead is on a tester.
	cs := twin.Case(c, pr, rpm, p.asked(rpm)/2)
	_, v, err := p.solver.Available(&cs)
	return v, err
}

// meanSquare is the mean square of a current rising from nothing toward amps
// with a time constant, switched in a rhythm, A².
func meanSquare(amps, tau float64, r firing.Rhythm) float64 {
	t := math.Min(r.Dwell, r.Period)
	if !(t > 0) || math.IsInf(r.Period, 1) {
		return 0
	}
	e1, e2 := 1-math.Exp(-t/tau), 1-math.Exp(-2*t/tau)
	return amps * amps * (t - 2*tau*e1 + tau/2*e2) / r.Period
}

package draw

// lattice is values where columns and rows cross, in scene units, for tracing
// regions and level lines ("marching squares": W. Lorensen and H. Cline,
// "Marching cubes", Computer Graphics 21, 1987, in two dimensions). Along
// every edge of a square the value runs straight; where a square's corners
// are high and low by turns, the mean of the four says which are joined.
type lattice struct {
	xs, ys []float64
	z      [][]float64 // z[j][i] at (xs[i], ys[j]); numbers all
}

// place names a point of an outline exactly: a crossing of column i and row
// j, or a cut of the edge that goes from there along the row or the column.
type place struct {
	kind uint8 // 0 the crossing itself, 1 on the edge along the row, 2 along the column
	i, j int
}

// step is one directed piece of an outline; the region lies to one side of
// all of them alike.
type step struct{ from, to place }

// cuts gives the pieces of the level line square by square, and where each
// cut lies. A value equal to the level counts as above it.
func (l *lattice) cuts(level float64) ([]step, map[place]Point) {
	at := map[place]Point{}
	var out []step
	cut := func(p place) place {
		if _, ok := at[p]; ok {
			return p
		}
		i, j := p.i, p.j
		a, b := l.z[j][i], 0.0
		if p.kind == 1 {
			b = l.z[j][i+1]
		} else {
			b = l.z[j+1][i]
		}
		t := (level - a) / (b - a)
		if p.kind == 1 {
			at[p] = Point{l.xs[i] + t*(l.xs[i+1]-l.xs[i]), l.ys[j]}
		} else {
			at[p] = Point{l.xs[i], l.ys[j] + t*(l.ys[j+1]-l.ys[j])}
		}
		return p
	}
	for j := 0; j+1 < len(l.ys); j++ {
		for i := 0; i+1 < len(l.xs); i++ {
			z := [4]float64{l.z[j][i], l.z[j][i+1], l.z[j+1][i+1], l.z[j+1][i]}
			edge := [4]place{{1, i, j}, {2, i + 1, j}, {1, i, j + 1}, {2, i, j}}
			var enter, leave [2]place // round the square, run by run of corners above the level
			n := 0
			first := 0
			for first < 4 && z[first] >= level {
				first++
			}
			if first == 4 {
				continue // all above
			}
			for k := range 4 {
				a, b := (first+k)%4, (first+k+1)%4
				in, next := z[a] >= level, z[b] >= level
				if !in && next {
					enter[n] = cut(edge[a])
				}
				if in && !next {
					leave[n] = cut(edge[a])
					n++
				}
			}
			joined := n == 2 && (z[0]+z[1]+z[2]+z[3])/4 >= level
			for r := range n {
				to := enter[r]
				if joined {
					to = enter[1-r]
				}
				out = append(out, step{leave[r], to})
			}
		}
	}
	return out, at
}

// lines are the level lines, open ones from edge to edge and closed ones
// ending where they begin.
func (l *lattice) lines(level float64) [][]Point {
	steps, at := l.cuts(level)
	return chain(steps, at)
}

// region gives the outlines of where the value is at or above the level, the
// edge of the lattice included. Holes wind the other way.
func (l *lattice) region(level float64) [][]Point {
	steps, at := l.cuts(level)
	nx, ny := len(l.xs), len(l.ys)
	border := func(i, j, di, dj int) {
		a, b := l.z[j][i] >= level, l.z[j+dj][i+di] >= level
		from, to := place{0, i, j}, place{0, i + di, j + dj}
		at[from] = Point{l.xs[i], l.ys[j]}
		at[to] = Point{l.xs[i+di], l.ys[j+dj]}
		edge := place{1, min(i, i+di), j}
		if dj != 0 {
			edge = place{2, i, min(j, j+dj)}
		}
		switch {
		case a && b:
			steps = append(steps, step{from, to})
		case a:
			steps = append(steps, step{from, edge})
		case b:
			steps = append(steps, step{edge, to})
		}
	}
	for i := 0; i+1 < nx; i++ {
		border(i, 0, 1, 0)
	}
	for j := 0; j+1 < ny; j++ {
		border(nx-1, j, 0, 1)
	}
	for i := nx - 1; i > 0; i-- {
		border(i, ny-1, -1, 0)
	}
	for j := ny - 1; j > 0; j-- {
		border(0, j, 0, -1)
	}
	return chain(steps, at)
}

// chain joins steps end to start into lines, in the order of the steps.
func chain(steps []step, at map[place]Point) [][]Point {
	next := make(map[place]place, len(steps))
	entered := make(map[place]bool, len(steps))
	for _, s := range steps {
		next[s.from] = s.to
		entered[s.to] = true
	}
	var out [][]Point
	follow := func(from place) {
		line := []Point{at[from]}
		for p := from; ; {
			q, ok := next[p]
			if !ok {
				break
			}
			delete(next, p)
			line = append(line, at[q])
			p = q
		}
		if len(line) > 1 {
			out = append(out, line)
		}
	}
	for _, s := range steps {
		if !entered[s.from] {
			follow(s.from)
		}
	}
	for _, s := range steps {
		follow(s.from)
	}
	return out
}

// bracket finds the interval of a rising or falling list in which v lies, and
// how far along it; the ends hold beyond the list.
func bracket(vs []float64, v float64) (int, float64) {
	rising := vs[len(vs)-1] > vs[0]
	i := 0
	for i+2 < len(vs) && (v > vs[i+1]) == rising && v != vs[i+1] {
		i++
	}
	u := (v - vs[i]) / (vs[i+1] - vs[i])
	return i, min(1, max(0, u))
}

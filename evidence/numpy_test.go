package evidence

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// numpyScript weighs all readings at once with whole matrices, where this package
// takes one after the other: log evidence, weights, and what is left to read.
const numpyScript = `
import json, sys
import numpy as np
q = json.load(sys.stdin)
y, nr = np.array(q["Read"]), len(q["Read"])
out = []
for draws in q["Draws"]:
    F = np.array(draws); n, C = F.shape
    S = np.cov(F, rowvar=False)
    rho = np.corrcoef(F, rowvar=False)
    with np.errstate(divide="ignore", invalid="ignore"):
        trust = np.clip(1 - (1-rho**2)**2/(n*rho**2), 0, None)
    np.fill_diagonal(trust, 1)
    h2 = (4/(5*n))**(2/7)
    P = h2*S*trust
    M = F.mean(0) + np.sqrt(1-h2)*(F - F.mean(0))
    A = P[:nr, :nr] + np.eye(nr)
    d = y - M[:, :nr]
    ll = -0.5*np.einsum("ki,ij,kj->k", d, np.linalg.inv(A), d) - 0.5*np.linalg.slogdet(2*np.pi*A)[1]
    K = P[nr:, :nr] @ np.linalg.inv(A)
    w = np.exp(ll - ll.max()); w /= w.sum()
    out.append(dict(LL=float(np.log(np.mean(np.exp(ll)))), W=w.tolist(), F=(M[:, nr:] + d @ K.T).tolist(),
      P=np.diag(P[nr:, nr:] - K @ P[:nr, nr:]).tolist()))
json.dump(out, sys.stdout)
`

func TestAgainstNumpy(t *testing.T) {
	var python string
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import numpy").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		if os.Getenv("CI") != "" {
			t.Fatal("python3 with numpy is not here, and CI is set")
		}
		t.Skip("SKIPPED: python3 with numpy is not here (Debian: python3-numpy); nothing was held against it")
	}
	rng := rand.New(rand.NewPCG(14, 15))
	w := newWorld(rng, 3, 6, 2, false)
	w.redraw(60)
	m := w.model
	m.Unknown.LogPrior = -40
	for c := range m.Channels {
		// Without slips: what is left of them is far below the tolerance.
		m.Channels[c].SlipProb, m.Channels[c].SlipFactors = 1e-15, []float64{}
	}
	read := []float64{1.5, -0.7, 0.9, 2.1}
	var all [][][]float64
	c := must(Prepare(m)).Open()
	for _, h := range m.Hypotheses {
		all = append(all, h.Draws)
	}
	for i, y := range read {
		figures(t, c, Reading{Channel: fmt.Sprint("c", i), Value: y})
	}
	ask, _ := json.Marshal(map[string]any{"Read": read, "Draws": all})
	cmd := exec.Command(python, "-c", numpyScript)
	cmd.Stdin = strings.NewReader(string(ask))
	said, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got []struct {
		LL   float64
		W, P []float64
		F    [][]float64
	}
	if err := json.Unmarshal(said, &got); err != nil {
		t.Fatal(err)
	}
	var lp []float64
	for h, g := range got {
		lp = append(lp, g.LL+m.Hypotheses[h].LogPrior)
	}
	sum := logSum(lp)
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol*(1+math.Abs(want))) {
			t.Errorf("%s: %.12g, numpy has %.12g", what, got, want)
		}
	}
	nc, nr := len(m.Channels), len(read)
	for h, g := range got {
		near(fmt.Sprint("probability of ", h), math.Exp(c.lp[h]), math.Exp(lp[h]-sum), 1e-6)
		v := &c.work[h]
		for k, x := range g.W {
			near("weight", math.Exp(c.lw[c.off[h]+k]-c.lp[h]), x, 1e-6)
			if x < 1e-6 {
				continue // there a slip is likelier than the reading, and the draw stays
			}
			for j := nr; j < nc; j++ {
				near("centre", v.f[j*v.n+k], g.F[k][j-nr], 1e-6)
			}
		}
		for j := nr; j < nc; j++ {
			near("kernel", v.v[j]*v.d[j*v.n]*v.d[j*v.n], g.P[j-nr], 1e-6)
		}
	}
}

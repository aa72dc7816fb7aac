package lobes

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// numpyScript does by general linear algebra what this package does by hand:
// least squares on the whole design, the harmonic by FFT, and the likelihood
// and the spread of the estimates from the full covariance matrix.
const numpyScript = `
import json, sys
import numpy as np
q = json.load(sys.stdin)
d, ideal = np.array(q["D"]), np.array(q["Ideal"])
n, L = d.shape
t = np.repeat(np.arange(n), L); j = np.tile(np.arange(L), n)
y = d.ravel()
tau = t + ideal[j]/360
a = np.radians(ideal[j])
# offset, slope along the shaft, once per turn: the rest is cam
X = np.column_stack([np.ones(n*L), tau - tau.mean(), np.cos(a), np.sin(a)])
C = (j[:, None] == np.arange(L)).astype(float)
full = np.column_stack([C, tau - tau.mean()])
b = np.linalg.lstsq(full, y, rcond=None)[0]
m, slope = b[:L], b[L]
Z = np.column_stack([np.ones(L), np.cos(np.radians(ideal)), np.sin(np.radians(ideal))])
h = np.linalg.lstsq(Z, m, rcond=None)[0]
F = np.fft.fft(m)
u = tau*L
R = np.exp(-np.abs(u[:, None]-u[None, :])/q["Reach"])
W = (1-q["Share"])*np.eye(n*L) + q["Share"]*R
Wi = np.linalg.inv(W)
A = full.T @ Wi @ full
r = y - full @ np.linalg.solve(A, full.T @ Wi @ y)
design = np.column_stack([C, t - t.mean()])
ld = np.linalg.slogdet(W)[1] + np.linalg.slogdet(design.T @ Wi @ design)[1]
P = np.linalg.pinv(full)
cov = P @ (q["White"]*np.eye(n*L) + sum(v*np.exp(-np.abs(u[:, None]-u[None, :])/g) for v, g in zip(q["Play"], q["Reaches"]))) @ P.T
json.dump(dict(M=list(m), Slope=slope, Centre=h[0], Cos=h[1], Sin=h[2], Cam=list(m - Z @ h),
  FFT=[2*F[1].real/L, -2*F[1].imag/L], SS=float(r @ Wi @ r), LD=ld, Cov=cov.tolist()), sys.stdout)
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
	for name, ideal := range map[string][]float64{"even eight": even(8), "uneven six": {0, 75, 120, 195, 240, 315}, "even four": even(4)} {
		m := usual()
		m.ideal, m.turns = ideal, 9
		m.cam = []float64{.5, -.4, .2, .3, -.6, .1, .2, .3}[:len(ideal)]
		f, err := fitRun(m.run(rand.New(rand.NewPCG(8, 9))), ideal, 0)
		if err != nil {
			t.Fatal(err)
		}
		share, reach := 0.6, 2.5
		ask, _ := json.Marshal(map[string]any{"D": f.late.d, "Ideal": ideal, "Share": share, "Reach": reach,
			"White": f.wander.whiteVar, "Play": f.wander.playVar, "Reaches": f.wander.reach})
		cmd := exec.Command(python, "-c", numpyScript)
		cmd.Stdin = strings.NewReader(string(ask))
		said, err := cmd.Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var got struct {
			M, Cam, FFT   []float64
			Slope, Centre float64
			Cos, Sin      float64
			SS, LD        float64
			Cov           [][]float64
		}
		if err := json.Unmarshal(said, &got); err != nil {
			t.Fatal(err)
		}
		const tol = 1e-9
		near(t, name+": slope", f.slope, got.Slope, tol)
		for j := range ideal {
			near(t, name+": lobe", f.m[j], got.M[j], tol)
		}
		centre, _, _ := circle(ideal)
		near(t, name+": centre", dot(centre, f.m), got.Centre, tol)
		cam, w := f.parts()
		near(t, name+": cosine", w.Cos.Mid, got.Cos, tol)
		near(t, name+": sine", w.Sin.Mid, got.Sin, tol)
		for j := range cam {
			near(t, name+": cam", cam[j].Mid, got.Cam[j], tol)
		}
		if strings.HasPrefix(name, "even") {
			near(t, name+": cosine by FFT", w.Cos.Mid, got.FFT[0], tol)
			near(t, name+": sine by FFT", w.Sin.Mid, got.FFT[1], tol)
		}
		for a := range got.Cov {
			for b := range got.Cov {
				near(t, name+": covariance", f.cov[a][b], got.Cov[a][b], 1e-10)
			}
		}
		n := f.series().at(share, reach)
		near(t, name+": r'W⁻¹r", n.ss, got.SS, 1e-8*math.Abs(got.SS))
		near(t, name+": determinants", n.ld, got.LD, 1e-8*math.Abs(got.LD))
	}
}
